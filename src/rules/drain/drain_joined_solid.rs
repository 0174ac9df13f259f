//! A condensate drain is never joined solid to the drains of the house.

use super::endings::{endings, gap_or_break, gap_words};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN016",
        name: "drain_joined_solid",
        title: "drain joined solid to a house drain",
        severity: Severity::Error,
        source: "IPC 802.1; IMC 307.2.1",
        why: Why {
            checks: "Condensate goes into the drains of the house through an air gap or an air break, never through a solid joint. A pump and another condensate drain may be joined.",
            on_site: "Sewer gas comes up the pipe and the blower draws it into every room; a stopped sewer fills the drain pan.",
            fix: "End the pipe above the receptor with an air gap.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to soil-stack, solid joint }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to floor-sink, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for (kind, name, ending, _) in endings(job) {
        let Some(ending) = ending else {
            continue;
        };
        let Some(how) = ending
            .how
            .as_ref()
            .filter(|how| how.value.starts_with("solid"))
        else {
            continue;
        };
        let own = job.model.drains.contains_key(&ending.to.value)
            || job
                .model
                .equipment
                .get(&ending.to.value)
                .is_some_and(|unit| unit.kind == "pump");
        if own {
            continue;
        }
        let words = gap_words(job, kind, name);
        report.find(
            Finding::new(
                &RULE.kind,
                how.span,
                format!("{kind} `{name}` is joined solid to `{}`", ending.to.value),
                format!("write `{words}`, and end the pipe above a trapped, vented receptor"),
            )
            .measured(Shown::word("solid joint"), Relation::OneOf, gap_or_break())
            .label(ending.to.span, "the place it goes to")
            .edit(how.span, words),
        );
    }
}
