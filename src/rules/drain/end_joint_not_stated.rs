//! A drain into a receptor of the house says how it ends there.

use super::endings::{endings, gap_or_break, gap_words};
use crate::model::Stage;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN019",
        name: "end_joint_not_stated",
        title: "drain that does not say how it ends",
        severity: Severity::Error,
        source: "IPC 802.1; IMC 307.2.1; IRC M1411.3",
        why: Why {
            checks: "A drain that goes to a sink, tub, standpipe, floor drain or another receptor of the house says whether it ends with an air gap or an air break; every edition takes either. Before the rough-in it is said to be not checked.",
            on_site: "The crew pushes the pipe into the standpipe and seals it, and the house drain breathes into the unit.",
            fix: "Write `air gap` with its height, or `air break`.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

/// Words in the names of places that belong to the drains of a house.
const RECEPTORS: &[&str] = &[
    "sink",
    "standpipe",
    "tub",
    "lavatory",
    "basin",
    "receptor",
    "hub",
    "stack",
    "sewer",
    "trap",
];

/// Whether a place belongs to the drains of the house by its name; `floor-drain` does, `french-drain` does not.
pub(super) fn is_receptor(place: &str) -> bool {
    let place = place.to_lowercase();
    let words: Vec<&str> = place.split(['-', '_', ' ']).collect();
    words.iter().any(|word| RECEPTORS.contains(word))
        || words.contains(&"drain")
            && ["floor", "house", "sanitary", "shower", "waste"]
                .iter()
                .any(|word| words.contains(word))
}

fn check(job: &Job<'_>, report: &mut Report) {
    for (kind, name, ending, flawed) in endings(job) {
        let Some(ending) = ending.filter(|ending| ending.how.is_none()) else {
            continue;
        };
        // A pump and another condensate drain take the pipe as it comes.
        let own = job.model.drains.contains_key(&ending.to.value)
            || job.model.equipment.contains_key(&ending.to.value);
        if own || flawed {
            continue;
        }
        let receptor = is_receptor(&ending.to.value);
        if !receptor || job.model.job.stage < Stage::RoughIn {
            report.not_checked(
                &RULE.kind,
                format!("{kind} {name}"),
                format!("how it ends at `{}` is not said", ending.to.value),
                Some(ending.span),
            );
            continue;
        }
        let words = gap_words(job, kind, name);
        let after = Span::new(ending.to.span.file, ending.to.span.end, ending.to.span.end);
        report.find(
            Finding::new(
                &RULE.kind,
                ending.to.span,
                format!(
                    "{kind} `{name}` does not say how it ends at `{}`",
                    ending.to.value
                ),
                format!("write `discharge to {}, {words}`", ending.to.value),
            )
            .measured(Shown::word("nothing"), Relation::OneOf, gap_or_break())
            .edit(after, format!(", {words}")),
        );
    }
}
