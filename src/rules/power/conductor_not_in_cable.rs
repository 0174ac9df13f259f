//! Each conductor that lands on a terminal is one of its cable, and lands once.

use crate::catalog::Stated;
use crate::model::Circuit;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Scalar, Severity, Shown, Why};
use crate::systems::power::{cable_of, setting_of};

use super::conductor_on_wrong_terminal::is_ground;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR020",
        name: "conductor_not_in_cable",
        title: "feed conductor that its cable does not have",
        severity: Severity::Error,
        source: "the stock's catalog",
        why: Why {
            checks: "Every conductor that a circuit lands on a terminal is one of the colours of its cable, and no conductor lands twice.",
            on_site: "The crew looks for a red wire, and joins what it finds.",
            fix: "Write the colour named in the report, or use a cable that has the conductor.",
        },
    },
    example: Example {
        wrong: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240, land red on L1, land white on L2, land bare on GND }",
        right: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240, land black on L1, land white on L2, land bare on GND }",
    },
    check,
};

/// The colour of the cable that nothing lands yet.
fn free(circuit: &Circuit, known: &[String]) -> Option<String> {
    known
        .iter()
        .find(|colour| {
            !circuit
                .landings
                .iter()
                .any(|landing| landing.conductor.value == **colour)
        })
        .cloned()
}

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let Some(cable) = cable_of(job.catalog, circuit) else {
            continue;
        };
        let known: Vec<String> = cable.colours.iter().filter_map(Stated::get).collect();
        if known.is_empty() {
            continue;
        }
        for (n, landing) in circuit.landings.iter().enumerate() {
            let colour = &landing.conductor;
            let earlier = circuit
                .landings
                .iter()
                .take(n)
                .find(|other| other.conductor.value == colour.value);
            // The ground has no colour in the catalog; a cable without one is reported as that.
            let has = known.contains(&colour.value) || is_ground(&colour.value);
            let (message, found, relation, needed) = match earlier {
                Some(_) => (
                    format!(
                        "conductor `{}` of circuit `{}` lands twice",
                        colour.value, circuit.name
                    ),
                    Shown::count(2),
                    Relation::AtMost,
                    Shown::count(1),
                ),
                None if has => continue,
                None => (
                    format!(
                        "the cable of circuit `{}` has no `{}` conductor",
                        circuit.name, colour.value
                    ),
                    Shown::word(colour.value.clone()),
                    Relation::OneOf,
                    Shown {
                        value: Scalar::Words(known.clone()),
                        unit: None,
                        text: known.join(", "),
                    },
                ),
            };
            let on_ground = job
                .model
                .air_handlers
                .get(&circuit.unit.value)
                .and_then(setting_of)
                .and_then(|(_, setting)| setting.lands.ground.get())
                .is_some_and(|ground| ground == landing.terminal.value);
            let grounded = circuit
                .landings
                .iter()
                .any(|other| is_ground(&other.conductor.value));
            let free = if on_ground && !grounded && cable.ground.get() == Some(true) {
                Some("bare".to_owned())
            } else {
                free(circuit, &known)
            };
            let mut finding = Finding::new(
                &RULE.kind,
                colour.span,
                message,
                match (&free, earlier) {
                    (Some(free), _) => format!("write `land {free} on {}`", landing.terminal.value),
                    (None, Some(earlier)) => format!(
                        "take `land {} on {}` out: the conductor is on `{}` already, and the cable has no other one",
                        colour.value, landing.terminal.value, earlier.terminal.value
                    ),
                    (None, None) => "use a cable that has the conductor".to_owned(),
                },
            )
            .measured(found, relation, needed)
            .label(cable.span, "the cable in the catalog");
            if let Some(earlier) = earlier {
                finding = finding.label(earlier.conductor.span, "lands here first");
            }
            if let Some(free) = free {
                finding = finding.edit(colour.span, free);
            }
            report.find(finding);
        }
    }
}
