//! The flow of a return lies on the curves that the catalog gives for its grille and its filter.

use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

use super::face::returns;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "RET005",
        name: "return_curve_left",
        title: "more air than the curve of grille or filter holds",
        severity: Severity::Warning,
        source: "the catalog",
        why: Why {
            checks: "That the solved flow of a return does not lie beyond the last point of the loss curves of its grille and its filter. Beyond it the loss is taken to grow by the square of flow; below the first point it falls by the square to nothing.",
            on_site: "The loss on the way back is a guess, and all airflow that rests on it.",
            fix: "Use a larger grille or filter, a second return, or ask the maker for points that reach further.",
        },
    },
    example: Example {
        wrong: "return ret to ah.return { grille \"8 x 8 in grille\", in hall, measured 8 ft }",
        right: "return ret to ah.return { grille \"24 x 24 in grille\", in hall, measured 8 ft }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for entry in returns(job) {
        let Some(name) = entry.text("name").known() else {
            continue;
        };
        let id = |what: &str| format!("return.{}.{what}", name.value);
        for what in ["grille", "filter"] {
            let (Some(flow), Some(end)) = (
                job.ledger.real(&id("airflow")),
                job.ledger.real(&id(&format!("{what}-airflow-most"))),
            ) else {
                continue;
            };
            if flow <= end {
                continue;
            }
            let Some(item) = entry.child(what).and_then(|child| child.text(what).known()) else {
                continue;
            };
            let points = match what {
                "grille" => job.catalog.grilles.get(&item.value).map(|g| &g.points),
                _ => job.catalog.filters.get(&item.value).map(|f| &f.clean),
            };
            let (found, needed) = show_pair(flow, end, Dimension::AirFlow);
            let mut finding = Finding::new(
                &RULE.kind,
                item.span,
                format!(
                    "more air passes the {what} of return `{}` than its curve in the catalog holds",
                    name.value
                ),
                format!("use a larger {what}, or a second return"),
            )
            .measured(found, Relation::AtMost, needed);
            if let Some(last) = points.and_then(|points| points.last()) {
                finding = finding.label(last.span, "the curve ends here");
            }
            report.find(finding);
        }
    }
}
