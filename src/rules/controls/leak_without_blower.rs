//! When refrigerant leaks, the blower dilutes it, whatever the other safeties say.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::controls::Breach;

use super::proved::breaches;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL025",
        name: "leak_without_blower",
        title: "leak of flammable refrigerant that another safety leaves unmoved",
        severity: Severity::Error,
        source: "UL 60335-2-40, clause on mitigation by circulation (from memory); the equipment's catalog",
        why: Why {
            checks: "Where the catalog gives a unit a leak detector, the blower runs while it calls, with every other safety open or closed.",
            on_site: "Refrigerant that burns gathers in the lowest room, and the blower that should thin it was stopped by a full pan.",
            fix: "Choose a unit, or a float switch, that stops cooling and leaves the blower alone.",
        },
    },
    example: Example {
        wrong: "air-handler ah2 { model \"Test 3-ton, float stops the blower\", on attic, center 20 ft, 6 ft, discharge toward east }",
        right: "air-handler ah2 { model \"Test 3-ton, float stops cooling\", on attic, center 20 ft, 6 ft, discharge toward east }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let circuit = &job.wiring.circuit;
    for breach in breaches(job) {
        let Breach::LeakUnmoved { unit, safety, case } = breach else {
            continue;
        };
        let (Some(leak), Some(handler)) = (
            circuit.safeties().get(*safety),
            job.model.air_handlers.get(unit),
        ) else {
            continue;
        };
        let others: Vec<String> = case
            .tripped
            .iter()
            .filter(|n| *n != safety)
            .filter_map(|n| circuit.safeties().get(*n))
            .map(crate::systems::controls::Safety::words)
            .collect();
        let with = if others.is_empty() {
            String::new()
        } else {
            format!(" with {} open", others.join(" and "))
        };
        report.find(
            Finding::new(
                &RULE.kind,
                handler.span,
                format!(
                    "{} calls{with}, and the blower of `{unit}` stands still",
                    leak.words()
                ),
                "let the other safety stop cooling only",
            )
            .measured(
                Shown::word("still"),
                Relation::Equal,
                Shown::word("running"),
            )
            .label(leak.span, "the leak detector"),
        );
    }
}
