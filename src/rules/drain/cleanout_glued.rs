//! The plug of a cleanout is threaded, never glued.

use crate::model::Mark;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN009",
        name: "cleanout_glued",
        title: "cleanout with a glued plug",
        severity: Severity::Error,
        source: "IRC M1411.3.3; IMC 307.2.5",
        why: Why {
            checks: "The plug of a cleanout comes out by hand or wrench.",
            on_site: "A glued plug is no cleanout: the drain is cut the first time it clogs.",
            fix: "Fit a threaded plug.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout plug glued, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout plug threaded, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let plugs: Vec<_> = drain
            .happenings
            .iter()
            .filter_map(|happening| match happening.mark {
                Mark::Cleanout { glued, .. } => Some(glued),
                _ => None,
            })
            .collect();
        // While another one opens, the drain can still be cleared: poor practice, no more.
        let other_opens = plugs.iter().any(Option::is_none);
        for glued in plugs.iter().flatten() {
            let mut finding = Finding::new(
                &RULE.kind,
                *glued,
                format!("the cleanout of drain `{}` has a glued plug", drain.name),
                "write `cleanout plug threaded`",
            )
            .measured(
                Shown::word("glued"),
                Relation::Equal,
                Shown::word("threaded"),
            )
            .edit(*glued, "threaded");
            if other_opens {
                finding = finding
                    .severity(Severity::Warning)
                    .source("common practice");
            }
            report.find(finding);
        }
    }
}
