//! A clean filter loses less than the loss at which it is changed, or it is never clean.

use crate::catalog::{Filter, Stated};
use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

use super::face::returns;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "RET003",
        name: "filter_past_change",
        title: "filter that is due for change when new",
        severity: Severity::Error,
        source: "the filter's catalog",
        why: Why {
            checks: "At the solved airflow the loss of the return's clean filter stays under the loss at which the catalog has it changed.",
            on_site: "The gauge calls for a new filter on the first day, so that nobody heeds it when the filter is full.",
            fix: "Use a larger filter, or a second return with its own.",
        },
    },
    example: Example {
        wrong: "return ret to ah.return { grille \"24 x 24 in grille\", in hall, filter \"14 x 14 in filter\", measured 8 ft }",
        right: "return ret to ah.return { grille \"24 x 24 in grille\", in hall, filter \"24 x 24 in filter\", measured 8 ft }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for entry in returns(job) {
        let Some(name) = entry.text("name").known() else {
            continue;
        };
        let id = |what: &str| format!("return.{}.{what}", name.value);
        let real = |what: &str| job.ledger.real(&id(what));
        let (Some(found), Some(change)) = (real("filter-loss"), real("filter-change")) else {
            continue;
        };
        if found < change {
            continue;
        }
        let Some(item) = entry
            .child("filter")
            .and_then(|child| child.text("filter").known())
        else {
            continue;
        };
        let flow = real("airflow").unwrap_or_default();
        let face = |filter: &Filter| {
            let size = filter.size.get();
            size.map_or(0.0, |size| size.length.to_feet() * size.width.to_feet())
        };
        let own = job.catalog.filters.get(&item.value).map_or(0.0, face);
        let better = job.catalog.filters.iter().find(|(_, filter)| {
            if face(filter) < own {
                return false;
            }
            let loss = filter
                .clean
                .iter()
                .filter_map(Stated::get)
                .find(|p| p.flow.value() >= flow);
            loss.zip(filter.change.get())
                .is_some_and(|(p, change)| p.pressure < change)
        });
        let (shown, needed) = show_pair(found, change, Dimension::Pressure);
        let mut finding = Finding::new(
            &RULE.kind,
            item.span,
            format!(
                "the filter of return `{}` is due for change when new",
                name.value
            ),
            better.map_or_else(
                || "use a larger filter, or a second return".to_owned(),
                |(name, _)| format!("write `filter \"{name}\"`"),
            ),
        )
        .measured(shown, Relation::AtMost, needed);
        if let Some(sheet) = job.catalog.filters.get(&item.value) {
            finding = finding.label(sheet.change.span, "changed at this loss");
        }
        if let Some((name, _)) = better {
            finding = finding.edit(item.span, format!("\"{name}\""));
        }
        report.find(finding);
    }
}
