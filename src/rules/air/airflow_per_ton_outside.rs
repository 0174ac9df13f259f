//! The unit moves as much air for its size as its maker asks for: enough that the coil stays clear of ice.

use crate::figures::figure_id;
use crate::quantity::{AirFlow, Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

use super::tap::{easier_return, other_tap};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR013",
        name: "airflow_per_ton_outside",
        title: "airflow that the coil is not made for",
        severity: Severity::Error,
        source: "the equipment's catalog",
        why: Why {
            checks: "At the set tap the solved airflow over the nominal tons lies inside the catalog's range.",
            on_site: "With too little air the coil ices and the cut-out stops cooling; with too much it blows water off the coil and hardly dries the air.",
            fix: "Set another tap. Where no tap does it, give the trunk more or fewer runs, a wider return, or take another size of unit.",
        },
    },
    example: Example {
        wrong: "return ret to ah.return { grille \"24 x 24 in grille\", in hall, duct \"9 in round\", measured 90 ft, bends 6 }",
        right: "return ret to ah.return { grille \"24 x 24 in grille\", in hall, measured 8 ft }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values() {
        let stated = &unit.sheet.air.airflow_per_ton;
        let id = figure_id(["air-handler.", &unit.name, ".airflow-per-ton"]);
        let (Some(range), Some(found)) = (stated.get(), job.ledger.real(&id)) else {
            continue;
        };
        let at = unit.tap.as_ref().map_or(unit.span, |tap| tap.span);
        let ends: [(&str, AirFlow, Relation); 2] = [
            ("least", range.least, Relation::AtLeast),
            ("most", range.most, Relation::AtMost),
        ];
        for (name, end, relation) in ends {
            let own = Limit::of_catalog(end.value(), stated.span);
            let limit = job.limit(
                &RULE.kind,
                (name, Dimension::AirFlow),
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
                None if low => "no tap of it brings it there: give the trunk more runs or the return a wider way, or take a smaller unit".to_owned(),
                None => "no tap of it brings it there: take runs off the trunk, put orifices into them, or take a larger unit".to_owned(),
            };
            let (found, needed) = show_pair(found, limit.value, Dimension::AirFlow);
            let mut finding = Finding::new(
                &RULE.kind,
                at,
                format!(
                    "`{}` moves too {} air a ton for its coil",
                    unit.name,
                    if low { "little" } else { "much" }
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
