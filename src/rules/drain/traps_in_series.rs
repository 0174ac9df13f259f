//! One trap a drain, unless a vent stands between two.

use crate::model::Mark;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN006",
        name: "traps_in_series",
        title: "two traps with no vent between them",
        severity: Severity::Warning,
        source: "common practice",
        why: Why {
            checks: "No second trap follows the first without an open vent between them.",
            on_site: "Air is locked in between the two waters: the drain gulps, stops, and the pan fills.",
            fix: "Take the second trap out, or put a vent behind the first.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, trap drop 6 in, seal 2 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, vent 8 in, south 4 ft, fall 1 in, trap drop 6 in, seal 2 in, discharge to tub, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let mut earlier = None;
        for happening in &drain.happenings {
            match (&happening.mark, earlier) {
                (Mark::Vent(_), _) => earlier = None,
                (Mark::Trap { .. }, Some(first)) => {
                    report.find(
                        Finding::new(
                            &RULE.kind,
                            happening.span,
                            format!(
                                "drain `{}` has a second trap and no vent before it",
                                drain.name
                            ),
                            "take this trap out, or add `vent 8 in` behind the first one",
                        )
                        .label(first, "the first trap"),
                    );
                    earlier = Some(happening.span);
                }
                (Mark::Trap { .. }, None) => earlier = Some(happening.span),
                _ => {}
            }
        }
    }
}
