//! A wire has a colour that its cable has.

use crate::catalog::Stated;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Scalar, Severity, Shown, Why};

use super::free_colour;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL012",
        name: "colour_not_in_cable",
        title: "colour that the cable does not have",
        severity: Severity::Warning,
        source: "the stock's catalog",
        why: Why {
            checks: "The colour of each wire is one that the catalog gives for its cable.",
            on_site: "The crew looks for a brown conductor in a cable that has none, and the two ends are landed by guess.",
            fix: "Use a colour of the cable, or name the cable that has it.",
        },
    },
    example: Example {
        wrong: "cable extra from stat to ah { type \"18/5\", spare brown }",
        right: "cable extra from stat to ah { type \"18/5\", spare blue }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for cable in job.model.cables.values() {
        let Some(item) = cable
            .item
            .as_ref()
            .and_then(|item| job.catalog.cables.get(&item.value))
        else {
            continue;
        };
        let known: Vec<String> = item.colours.iter().filter_map(Stated::get).collect();
        let of = |what: &str| job.ledger.real(&format!("cable.{}.{what}", cable.name));
        let full = of("conductors-used")
            .zip(of("conductors"))
            .is_some_and(|(used, has)| used > has);
        // More wires than conductors is reported as that.
        if known.is_empty() || full {
            continue;
        }
        for colour in cable
            .wires
            .iter()
            .map(|wire| &wire.colour)
            .chain(&cable.spares)
        {
            if known.contains(&colour.value) {
                continue;
            }
            let free = free_colour(job, cable)
                .filter(|free| !free.spare)
                .map(|free| free.colour);
            let mut finding = Finding::new(
                &RULE.kind,
                colour.span,
                format!("cable `{}` has no `{}` conductor", cable.name, colour.value),
                free.as_ref().map_or_else(
                    || format!("use one of: {}", known.join(", ")),
                    |free| format!("write `{free}`"),
                ),
            )
            .measured(
                Shown::word(colour.value.clone()),
                Relation::OneOf,
                Shown {
                    value: Scalar::Words(known.clone()),
                    unit: None,
                    text: known.join(", "),
                },
            )
            .label(item.span, "the cable in the catalog");
            if let Some(free) = free {
                finding = finding.edit(colour.span, free);
            }
            report.find(finding);
        }
    }
}
