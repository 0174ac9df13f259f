//! Each conductor of the feed lands where the plate of the setting puts it.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Scalar, Severity, Shown, Why};
use crate::systems::power::{is_fed_outside, setting_of};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR012",
        name: "conductor_on_wrong_terminal",
        title: "feed conductor on the wrong terminal",
        severity: Severity::Error,
        source: "the equipment's catalog; NEC 110.3(B)",
        why: Why {
            checks: "The conductors of the feed land on the terminals that the sheet names for the setting in force: the bare or green one on ground, the others on the line terminals, one on each.",
            on_site: "The unit does not run, or its cabinet is live.",
            fix: "Land the conductor on the terminal named in the report.",
        },
    },
    example: Example {
        wrong: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240, land black on J1, land white on L2, land bare on GND }",
        right: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240, land black on L1, land white on L2, land bare on GND }",
    },
    check,
};

/// Whether a conductor is the ground by its name.
pub(super) fn is_ground(conductor: &str) -> bool {
    let conductor = conductor.to_lowercase();
    ["bare", "green", "ground"]
        .iter()
        .any(|word| conductor.contains(word))
}

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let Some(unit) = job.model.air_handlers.get(&circuit.unit.value) else {
            continue;
        };
        if is_fed_outside(job.model, unit) {
            continue;
        }
        let Some((name, setting)) = setting_of(unit) else {
            continue;
        };
        let lands = &setting.lands;
        let Some(ground) = lands.ground.get() else {
            continue;
        };
        let lines: Vec<String> = [
            Some(&lands.line_1),
            lands.line_2.as_ref(),
            lands.neutral.as_ref(),
        ]
        .into_iter()
        .flatten()
        .filter_map(crate::catalog::Stated::get)
        .collect();
        let is_empty = |terminal: &str| {
            setting
                .empty
                .iter()
                .flatten()
                .filter_map(crate::catalog::Stated::get)
                .any(|empty| empty == terminal)
        };
        // Each terminal is offered once, so that all edits together are right.
        let mut offered: Vec<String> = Vec::new();
        for (n, landing) in circuit.landings.iter().enumerate() {
            let terminal = &landing.terminal.value;
            let earthed = is_ground(&landing.conductor.value);
            // What lands there and belongs elsewhere leaves it free.
            let missing = |wanted: &String| {
                !circuit.landings.iter().any(|other| {
                    let belongs = is_ground(&other.conductor.value) == (*wanted == ground);
                    other.terminal.value == *wanted && belongs
                })
            };
            // Two on one line terminal, and another one left bare: the later of the two went astray.
            let doubled = !earthed
                && lines.iter().any(missing)
                && circuit.landings.iter().take(n).any(|other| {
                    other.terminal.value == *terminal && !is_ground(&other.conductor.value)
                });
            let right = if earthed {
                *terminal == ground
            } else {
                lines.contains(terminal) && !doubled
            };
            // A terminal that stays empty has a rule of its own.
            // A conductor that lands twice has one as well.
            let again = circuit
                .landings
                .iter()
                .take(n)
                .any(|other| other.conductor.value == landing.conductor.value);
            if right || again || is_empty(terminal) && !earthed {
                continue;
            }
            let wanted: Vec<String> = if earthed {
                vec![ground.clone()]
            } else {
                lines.clone()
            };
            let free = wanted
                .iter()
                .find(|wanted| missing(wanted) && !offered.contains(wanted))
                .or(wanted.first());
            offered.extend(free.cloned());
            let mut finding = Finding::new(
                &RULE.kind,
                landing.terminal.span,
                format!(
                    "conductor `{}` of circuit `{}` lands on `{terminal}`, which is not its terminal at setting `{name}`",
                    landing.conductor.value, circuit.name
                ),
                free.map_or_else(
                    || "land it as the plate says".to_owned(),
                    |free| format!("land it on `{free}`"),
                ),
            )
            .measured(
                Shown::word(terminal.clone()),
                Relation::OneOf,
                Shown {
                    value: Scalar::Words(wanted.clone()),
                    unit: None,
                    text: wanted.join(", "),
                },
            )
            .label(lands.span, "the terminals of the setting");
            if let Some(free) = free {
                finding = finding.edit(landing.terminal.span, free.clone());
            }
            report.find(finding);
        }
    }
}
