//! A unit with a cooling coil has a drain.

use crate::model::AirHandler;
use crate::rules::described::Trade;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Spanned, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN020",
        name: "drain_missing",
        title: "cooling coil without a drain",
        severity: Severity::Error,
        source: "IRC M1411.3; IMC 307.2.1",
        why: Why {
            checks: "From the stage of the order on, and once the other trades are described, a drain starts at each air handler that has a cooling coil, and not at its secondary port alone. Until then it is said to be not checked.",
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

/// The port under the pan's rim, for the water that the first one does not take.
const SECOND: &str = "secondary-drain";

/// The ports of a unit that drains of the job say to start from, as written.
fn starts(job: &Job<'_>, unit: &str) -> Vec<Spanned<String>> {
    let drains = job
        .model
        .entries
        .iter()
        .filter(|entry| entry.word.word == "drain");
    drains
        .filter_map(|entry| entry.text("port").known())
        .filter(|from| from.value.split('.').next() == Some(unit))
        .collect()
}

/// A unit whose only drain starts at its secondary port: water stands in the pan up to there.
fn from_second(unit: &AirHandler, from: &Spanned<String>) -> Finding {
    let first = format!("{}.drain", unit.name);
    Finding::new(
        &RULE.kind,
        from.span,
        format!(
            "the only drain of `{}` starts at its secondary port, and nothing drains its first one",
            unit.name
        ),
        format!("write `from {first}`, or add a drain there"),
    )
    .measured(
        Shown::word(from.value.clone()),
        Relation::Equal,
        Shown::word(first.clone()),
    )
    .edit(from.span, first)
}

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values() {
        let cools = !unit.sheet.cooling.is_empty();
        let starts = starts(job, &unit.name);
        let port =
            |from: &Spanned<String>| from.value.split_once('.').map(|(_, port)| port.to_owned());
        let first = unit.sheet.ports.named("drain").is_some();
        if let ([from], true, true) = (starts.as_slice(), cools, first)
            && port(from).as_deref() == Some(SECOND)
            && job.misses(Trade::Drain)
        {
            report.find(from_second(unit, from));
            continue;
        }
        // A drain that could not be placed is there all the same.
        if !cools || !starts.is_empty() || job.model.is_misread(&unit.name) {
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
