//! Suction in the cabinet stays under what its maker allows, with a clean filter and with a dirty one.

use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "RET006",
        name: "cabinet_suction_high",
        title: "more suction in the cabinet than it is made for",
        severity: Severity::Error,
        source: "the equipment's catalog",
        why: Why {
            checks: "The suction at the drain pan at the solved airflow, with the filter clean and at its change, is at most what the catalog allows.",
            on_site: "Water is held in the pan or sucked into the blower, the trap runs dry, and air is drawn in at every seam of the cabinet.",
            fix: "Make the way back easier: a wider return duct, a larger grille or filter, a filter that is changed at a lower loss.",
        },
    },
    example: Example {
        wrong: "return ret to ah.return { grille \"24 x 24 in grille\", in hall, filter \"24 x 24 in filter\", duct \"7 in round\", measured 30 ft }",
        right: "return ret to ah.return { grille \"24 x 24 in grille\", in hall, filter \"24 x 24 in filter\", measured 8 ft }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values().filter(|unit| !unit.flawed) {
        let stated = unit.sheet.air.most_suction.as_ref();
        let Some((stated, most)) = stated.and_then(|stated| Some((stated, stated.get()?))) else {
            continue;
        };
        let own = Limit::of_catalog(most.value(), stated.span);
        let name = ("suction", Dimension::Pressure);
        let limit = job.limit(&RULE.kind, name, Relation::AtMost, own, report);
        let id = |what: &str| format!("air-handler.{}.cabinet-suction{what}", unit.name);
        if job.ledger.real(&id("")).is_none() && job.ledger.reason(&id("")).is_some() {
            if !job.rests_on_airflow(&id("")) {
                let thing = format!("air handler `{}`", unit.name);
                report.not_known(&RULE.kind, thing, (job.ledger, &id("")), unit.span);
            }
            continue;
        }
        for (suffix, filter) in [("", "clean"), ("-dirty", "dirty")] {
            let found = job.ledger.real(&id(suffix));
            let Some(found) = found.filter(|found| *found > limit.value) else {
                continue;
            };
            let (shown, needed) = show_pair(found, limit.value, Dimension::Pressure);
            let finding = Finding::new(
                &RULE.kind,
                unit.span,
                format!(
                    "with a {filter} filter the cabinet of `{}` is under more suction than it is made for",
                    unit.name
                ),
                "give the return a wider duct, grille or filter, or set a lower `tap`",
            )
            .measured(shown, Relation::AtMost, needed);
            report.find(limit.mark(finding));
            // With a dirty filter it is more still.
            break;
        }
    }
}
