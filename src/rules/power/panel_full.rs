//! The panel has as many free positions as the job's breakers take.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::power::added;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR035",
        name: "panel_full",
        title: "panel without a position for a breaker",
        severity: Severity::Error,
        source: "NEC 408.54; the panel as surveyed",
        why: Why {
            checks: "Where a panel says how many of its positions are `free`, the breakers of the job's circuits take no more: one for a pole. Where it says how many `spaces` it has, no breaker stands beyond them. A circuit that is `existing` takes none.",
            on_site: "The electrician stands before a full panel with the breakers in hand, and two circuits end up under one screw.",
            fix: "Add a subpanel, or breakers of two circuits to a position where the panel is marked for them.",
        },
    },
    example: Example {
        wrong: "panel p2 on first { at 30 ft, 6 ft, supply 240/120, free 1 }\ncircuit ah-power to ah { from panel p2, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240 }",
        right: "panel p2 on first { at 30 ft, 6 ft, supply 240/120, free 2 }\ncircuit ah-power to ah { from panel p2, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for panel in job.model.panels.values() {
        if let Some(free) = panel.free {
            let circuits: Vec<_> = added(job.model, panel).collect();
            let taken = job
                .ledger
                .real(&format!("panel.{}.positions-taken", panel.name));
            let taken = whole(taken.unwrap_or(0.0));
            let room = whole(free.value);
            if taken > room {
                let names: Vec<String> = circuits
                    .iter()
                    .map(|one| format!("`{}`", one.name))
                    .collect();
                let more = taken - room;
                report.find(
                    Finding::new(
                        &RULE.kind,
                        free.span,
                        format!(
                            "panel `{}` has too few free positions for {}",
                            panel.name,
                            names.join(", ")
                        ),
                        format!(
                            "free {more} more in it, or feed them from a subpanel of at least {taken} positions"
                        ),
                    )
                    .measured(
                        Shown::count(room),
                        Relation::AtLeast,
                        Shown::count(taken),
                    )
                    .label(panel.span, "the panel"),
                );
            }
        }
        let Some(spaces) = panel.spaces else { continue };
        let last = whole(spaces.value);
        let of_panel = job.model.circuits.values().filter(|circuit| {
            let from = circuit.panel.as_ref();
            from.is_some_and(|from| from.value == panel.name)
        });
        for circuit in of_panel {
            let beyond = circuit.positions.iter().find_map(|position| {
                let at: usize = position.value.parse().ok()?;
                (at > last || at == 0).then_some((position, at))
            });
            let Some((position, at)) = beyond else {
                continue;
            };
            report.find(
                Finding::new(
                    &RULE.kind,
                    position.span,
                    format!(
                        "panel `{}` has no position {at} for circuit `{}`",
                        panel.name, circuit.name
                    ),
                    format!("write a position up to {last}, or correct the panel's `spaces`"),
                )
                .measured(
                    Shown::count(at),
                    Relation::Between,
                    Shown::word(format!("1 and {last}")),
                )
                .label(spaces.span, "its positions"),
            );
        }
    }
}

/// A count as it was written.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a count of positions, bounded by the clamp"
)]
const fn whole(count: f64) -> usize {
    count.clamp(0.0, 1e6) as usize
}
