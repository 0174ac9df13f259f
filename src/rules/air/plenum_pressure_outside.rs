//! The plenum stands at the pressure that the maker asks for: enough to push air into every tube, not more than the
//! joints are sealed for.

use crate::figures::figure_id;
use crate::quantity::{Dimension, Pressure, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

use super::tap::{easier_return, other_tap};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR014",
        name: "plenum_pressure_outside",
        title: "plenum pressure outside the maker's range",
        severity: Severity::Error,
        source: "the equipment's catalog",
        why: Why {
            checks: "At the set tap the solved pressure in the supply plenum lies inside the catalog's range.",
            on_site: "Below it the outlets blow too weakly to mix the room's air; above it joints leak and outlets hiss.",
            fix: "Set another tap. Where no tap does it: fewer or more runs, shorter tubes, a larger trunk, orifices.",
        },
    },
    example: Example {
        wrong: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 60 ft, bends 2 }",
        right: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 14 ft, bends 2 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values() {
        let stated = &unit.sheet.air.plenum_pressure;
        let id = figure_id(["air-handler.", &unit.name, ".plenum-pressure"]);
        let (Some(range), Some(found)) = (stated.get(), job.ledger.real(&id)) else {
            continue;
        };
        let at = unit.tap.as_ref().map_or(unit.span, |tap| tap.span);
        let ends: [(&str, Pressure, Relation); 2] = [
            ("least", range.least, Relation::AtLeast),
            ("most", range.most, Relation::AtMost),
        ];
        for (name, end, relation) in ends {
            let own = Limit::of_catalog(end.value(), stated.span);
            let limit = job.limit(
                &RULE.kind,
                (name, Dimension::Pressure),
                relation,
                own,
                report,
            );
            let low = relation == Relation::AtLeast;
            if low && found >= limit.value || !low && found <= limit.value {
                continue;
            }
            let back = easier_return(job, unit).filter(|_| low);
            let better = other_tap(job, unit, low).filter(|_| back.is_none());
            let help = match &better {
                _ if let Some((help, _)) = &back => help.clone(),
                Some(tap) => format!("write `tap {tap}`"),
                None if low => {
                    "no tap of it brings it there: take runs off the trunk or put orifices into them"
                        .to_owned()
                }
                None => {
                    "no tap of it brings it there: add runs, shorten the tubes, or widen the trunk"
                        .to_owned()
                }
            };
            let (found, needed) = show_pair(found, limit.value, Dimension::Pressure);
            let mut finding = Finding::new(
                &RULE.kind,
                at,
                format!(
                    "the plenum of `{}` stands at too {} a pressure",
                    unit.name,
                    if low { "low" } else { "high" }
                ),
                help,
            )
            .measured(found, relation, needed);
            if let Some((_, span)) = back {
                finding = finding.label(span, "the return");
            }
            if let Some(tap) = better {
                finding = finding.edit(at, tap);
            }
            report.find(limit.mark(finding));
        }
    }
}
