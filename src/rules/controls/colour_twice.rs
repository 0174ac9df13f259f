//! Each conductor of a cable is used once.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

use super::free_colour;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL010",
        name: "colour_twice",
        title: "conductor used twice in one cable",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "No colour of a cable stands in two of its wires, nor in a wire and as spare.",
            on_site: "The crew lands one conductor on two terminals, or picks another colour and the table is wrong from then on.",
            fix: "Use a colour that is still free.",
        },
    },
    example: Example {
        wrong: "cable extra from stat to ah { type \"18/5\", spare red, spare red }",
        right: "cable extra from stat to ah { type \"18/5\", spare red, spare white }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for cable in job.model.cables.values() {
        let mut seen: Vec<(&str, Span)> = Vec::new();
        let colours = cable
            .wires
            .iter()
            .map(|wire| &wire.colour)
            .chain(&cable.spares);
        for colour in colours {
            let Some((_, first)) = seen.iter().find(|(known, _)| *known == colour.value) else {
                seen.push((&colour.value, colour.span));
                continue;
            };
            let free = free_colour(job, cable)
                .filter(|free| !free.spare)
                .map(|free| free.colour);
            let mut finding = Finding::new(
                &RULE.kind,
                colour.span,
                format!("`{}` is used twice in cable `{}`", colour.value, cable.name),
                free.as_ref().map_or_else(
                    || "use a cable with more conductors".to_owned(),
                    |free| format!("write `{free}`"),
                ),
            )
            .measured(Shown::count(2), Relation::AtMost, Shown::count(1))
            .label(*first, "first used here");
            if let Some(free) = free {
                finding = finding.edit(colour.span, free);
            }
            report.find(finding);
        }
    }
}
