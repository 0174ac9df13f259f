//! At its slope every leg carries the wettest hour half full.

use crate::quantity::{Dimension, show_pair, trade_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN047",
        name: "leg_overfull",
        title: "drain leg that carries too little",
        severity: Severity::Error,
        source: "Manning's formula",
        why: Why {
            checks: "What a level leg carries half full at its slope is more than the water of the wettest hour.",
            on_site: "Water stands in the pipe up to the trap, and the trap into the pan.",
            fix: "Give the leg more fall, or use larger pipe.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1/64 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

/// Pounds an hour in one US gallon a minute, near 60 °F.
const POUNDS: f64 = 62.37 * 231.0 / 1728.0 * 60.0;

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let peak = format!("drain.{}.flow-wettest", drain.name);
        let Some(peak) = job.ledger.real(&peak) else {
            continue;
        };
        for (n, leg) in drain.legs.iter().enumerate() {
            let id = format!("drain.{}.leg-{}-capacity", drain.name, n + 1);
            let Some(carries) = job.ledger.real(&id) else {
                continue;
            };
            if carries * POUNDS >= peak {
                continue;
            }
            let span = leg.fall.map_or(leg.span, |fall| fall.span);
            let (found, needed) = show_pair(carries, peak / POUNDS, Dimension::WaterFlow);
            report.find(
                Finding::new(
                    &RULE.kind,
                    span,
                    format!(
                        "leg `{} {}` of drain `{}` carries less half full than comes to it",
                        leg.direction.word(),
                        trade_length(leg.length),
                        drain.name
                    ),
                    "give the leg more fall, or use larger pipe",
                )
                .measured(found, Relation::AtLeast, needed)
                .label(leg.span, "over this length"),
            );
        }
    }
}
