//! The panel's system gives the circuit's voltage.

use crate::quantity::{Dimension, number_text, show_real};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Scalar, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR008",
        name: "panel_cannot_supply",
        title: "voltage that the panel does not have",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "The voltage of a circuit is one that the supply system behind its panel gives: 240 or 120 V from 240/120, 208 or 120 V from a 208/120 wye.",
            on_site: "The electrician finds 208 V where the sheet says 240 V, and the setting of the blower is wrong.",
            fix: "Correct the circuit's voltage or the panel's supply, and then the unit's setting.",
        },
    },
    example: Example {
        wrong: "panel p2 on first { supply 208/120 }\ncircuit ah-power to ah { from panel p2, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240 }",
        right: "panel p2 on first { supply 208/120 }\ncircuit ah-power to ah { from panel p2, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 208 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let Some((volts, panel)) = circuit.volts.zip(circuit.panel.as_ref()) else {
            continue;
        };
        let Some(supply) = job
            .model
            .panels
            .get(&panel.value)
            .and_then(|panel| panel.supply.as_ref())
        else {
            continue;
        };
        let given: Vec<f64> = supply
            .value
            .split('/')
            .filter_map(|part| part.trim().trim_end_matches(['V', 'v']).trim().parse().ok())
            .collect();
        let thing = format!("circuit {}", circuit.name);
        if given.is_empty() {
            let reason = format!("`supply {}` names no voltage", supply.value);
            report.not_checked(&RULE.kind, thing, reason, Some(supply.span));
            continue;
        }
        let has = given
            .iter()
            .any(|given| given.to_bits() == volts.value.to_bits());
        if has {
            continue;
        }
        let words: Vec<String> = given
            .iter()
            .map(|given| format!("{} V", number_text(*given, 0)))
            .collect();
        let nearest = given
            .iter()
            .copied()
            .min_by(|a, b| (a - volts.value).abs().total_cmp(&(b - volts.value).abs()))
            .unwrap_or(volts.value);
        report.find(
            Finding::new(
                &RULE.kind,
                volts.span,
                format!(
                    "panel `{}` does not give the voltage of circuit `{}`",
                    panel.value, circuit.name
                ),
                format!(
                    "write `volts {}`, or correct the panel's `supply`",
                    number_text(nearest, 0)
                ),
            )
            .measured(
                show_real(volts.value, Dimension::Voltage),
                Relation::OneOf,
                Shown {
                    value: Scalar::Words(words.clone()),
                    unit: None,
                    text: words.join(", "),
                },
            )
            .label(supply.span, "the supply behind the panel")
            .edit(volts.span, number_text(nearest, 0)),
        );
    }
}
