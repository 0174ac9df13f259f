//! An air handler has a thermostat that calls it.

use crate::rules::described::Trade;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL020",
        name: "thermostat_missing",
        title: "job without a thermostat",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "From the stage of the order on, and once the other trades are described, a job with an air handler has a thermostat. Until then it is said to be not checked.",
            on_site: "Everything is wired and nothing tells it to run.",
            fix: "Add the thermostat, in the room that it feels.",
        },
    },
    example: Example {
        wrong: "air-handler ah2 { model \"Test 3-ton, flat\", on attic, center 20 ft, 6 ft, discharge toward east, stand 10 in, tap 4 }",
        right: "thermostat stat2 in hall { model \"Test thermostat\", height 5 ft }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let Some(unit) = job.model.air_handlers.values().next() else {
        return;
    };
    let misread = job
        .model
        .entries
        .iter()
        .any(|entry| entry.word.word == "thermostat");
    if !job.model.thermostats.is_empty() || misread {
        return;
    }
    if !job.misses(Trade::Controls) {
        report.not_checked(
            &RULE.kind,
            format!("air-handler {}", unit.name),
            "no thermostat is described yet",
            Some(unit.span),
        );
        return;
    }
    report.find(
        Finding::new(
            &RULE.kind,
            unit.span,
            format!("no thermostat calls `{}`", unit.name),
            "add `thermostat stat in …` with its room and model",
        )
        .measured(Shown::count(0), Relation::AtLeast, Shown::count(1)),
    );
}
