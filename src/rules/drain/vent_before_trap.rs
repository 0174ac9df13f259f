//! A vent stands behind the trap, never between unit and trap.

use crate::model::Mark;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN007",
        name: "vent_before_trap",
        title: "vent between the unit and the trap",
        severity: Severity::Warning,
        source: "common practice",
        why: Why {
            checks: "Where a drain has a vent, it stands behind the first trap.",
            on_site: "The blower draws air in through the vent past the trap: the trap does nothing and the water stays in the pan.",
            fix: "Move the vent behind the trap, and let it end above the float switch.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, vent 8 in, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, vent 8 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let Some((trap, ..)) = drain.traps().next() else {
            continue;
        };
        for happening in &drain.happenings {
            if happening.span == trap.span {
                break;
            }
            if matches!(happening.mark, Mark::Vent(_)) {
                report.find(
                    Finding::new(
                        &RULE.kind,
                        happening.span,
                        format!("the vent of drain `{}` stands before its trap", drain.name),
                        "move the vent behind the trap",
                    )
                    .label(trap.span, "the trap"),
                );
            }
        }
    }
}
