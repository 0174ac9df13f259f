//! A unit with a cooling coil has a drain.

use crate::rules::described::Trade;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN020",
        name: "drain_missing",
        title: "cooling coil without a drain",
        severity: Severity::Error,
        source: "IRC M1411.3; IMC 307.2.1",
        why: Why {
            checks: "From the stage of the order on, and once the other trades are described, a drain starts at each air handler that has a cooling coil. Until then it is said to be not checked.",
            on_site: "The first humid day puts gallons of water through the ceiling.",
            fix: "Add a drain from the unit's drain port, with trap, cleanout and end.",
        },
    },
    example: Example {
        wrong: "air-handler ah2 { model \"Test 3-ton, flat\", on attic, center 20 ft, 6 ft, discharge toward east, stand 10 in, tap 4 }",
        right: "air-handler ah2 { model \"Test 3-ton, flat\", on attic, center 20 ft, 6 ft, discharge toward east, stand 10 in, tap 4 }\ndrain other from ah2.drain { pipe \"3/4 in PVC\", south 4 in, cleanout, trap drop 2 3/8 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values() {
        let cools = !unit.sheet.cooling.is_empty();
        let drained = job
            .model
            .drains
            .values()
            .any(|drain| drain.unit == unit.name && drain.pan.is_none());
        if !cools || drained || job.model.is_misread(&unit.name) {
            continue;
        }
        if !job.misses(Trade::Drain) {
            report.not_checked(
                &RULE.kind,
                format!("air-handler {}", unit.name),
                "no drain is described yet",
                Some(unit.span),
            );
            continue;
        }
        report.find(
            Finding::new(
                &RULE.kind,
                unit.span,
                format!("nothing drains the cooling coil of `{}`", unit.name),
                format!(
                    "add `drain primary from {}.drain {{ … }}` with pipe, trap, cleanout and end",
                    unit.name
                ),
            )
            .measured(Shown::count(0), Relation::AtLeast, Shown::count(1)),
        );
    }
}
