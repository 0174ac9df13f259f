//! The panel's system gives the circuit's voltage.

use crate::model::{Circuit, Panel};
use crate::quantity::{Dimension, Voltage, number_text, show_real};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Scalar, Severity, Shown, Spanned, Why};
use crate::systems::power::{plate_of, voltages};

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

/// Supply systems that stand behind a house panel, as the language writes them, with what they give.
const SYSTEMS: &[(&str, &[f64])] = &[
    ("240/120", &[240.0, 120.0]),
    ("208/120", &[208.0, 120.0]),
    ("120", &[120.0]),
];

fn gives(volts: &[f64], wanted: f64) -> bool {
    volts
        .iter()
        .any(|given| given.to_bits() == wanted.to_bits())
}

fn volt_words(volts: &[f64]) -> Vec<String> {
    volts
        .iter()
        .map(|volts| format!("{} V", number_text(*volts, 0)))
        .collect()
}

/// Whether the plate of what a circuit feeds refuses its voltage: that is told there.
fn is_refused(job: &Job<'_>, circuit: &Circuit) -> bool {
    let plate = plate_of(job.model, job.catalog, circuit);
    let range = plate.and_then(|plate| plate.supply.get());
    range
        .zip(circuit.volts)
        .is_some_and(|(range, volts)| !range.holds(Voltage::new(volts.value)))
}

/// One circuit asks for what its panel does not give.
fn one(
    panel: &Panel,
    supply: &Spanned<String>,
    given: &[f64],
    circuit: &Circuit,
    volts: Spanned<f64>,
) -> Finding {
    let words = volt_words(given);
    let nearest = given
        .iter()
        .copied()
        .min_by(|a, b| (a - volts.value).abs().total_cmp(&(b - volts.value).abs()))
        .unwrap_or(volts.value);
    Finding::new(
        &RULE.kind,
        volts.span,
        format!(
            "panel `{}` does not give the voltage of circuit `{}`",
            panel.name, circuit.name
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
    .edit(volts.span, number_text(nearest, 0))
}

/// Several circuits ask for it: then the panel is what is wrong.
fn several(
    panel: &Panel,
    supply: &Spanned<String>,
    wrong: &[(&Circuit, Spanned<f64>)],
    all: &[f64],
) -> Finding {
    let names: Vec<String> = wrong
        .iter()
        .map(|(circuit, _)| format!("`{}`", circuit.name))
        .collect();
    let system = SYSTEMS
        .iter()
        .find(|(_, volts)| all.iter().all(|wanted| gives(volts, *wanted)))
        .map(|(name, _)| *name);
    let wanted: Vec<f64> = wrong
        .first()
        .map(|(_, volts)| volts.value)
        .into_iter()
        .collect();
    let mut finding = Finding::new(
        &RULE.kind,
        supply.span,
        format!(
            "panel `{}` does not give the voltage of circuits {}",
            panel.name,
            names.join(", ")
        ),
        system.map_or_else(
            || "correct the panel's `supply` or the circuits' `volts`".to_owned(),
            |system| format!("write `supply {system}`, or correct the circuits' `volts`"),
        ),
    )
    .measured(
        Shown::word(supply.value.clone()),
        Relation::Equal,
        Shown::word(system.map_or_else(|| volt_words(&wanted).join(", "), str::to_owned)),
    );
    if let Some(system) = system {
        finding = finding.edit(supply.span, system);
    }
    for (circuit, volts) in wrong {
        finding = finding.label(volts.span, format!("circuit {}", circuit.name));
    }
    finding
}

fn check(job: &Job<'_>, report: &mut Report) {
    for panel in job.model.panels.values() {
        let Some(supply) = &panel.supply else {
            continue;
        };
        let circuits: Vec<(&Circuit, Spanned<f64>)> = job
            .model
            .circuits
            .values()
            .filter(|circuit| {
                circuit
                    .panel
                    .as_ref()
                    .is_some_and(|from| from.value == panel.name)
            })
            .filter(|circuit| !is_refused(job, circuit))
            .filter_map(|circuit| Some((circuit, circuit.volts?)))
            .collect();
        let given = voltages(&supply.value);
        if given.is_empty() {
            let reason = format!("`supply {}` names no voltage", supply.value);
            report.not_checked(
                &RULE.kind,
                format!("panel {}", panel.name),
                reason,
                Some(supply.span),
            );
            continue;
        }
        let wrong: Vec<_> = circuits
            .iter()
            .copied()
            .filter(|(_, volts)| !gives(&given, volts.value))
            .collect();
        match wrong.as_slice() {
            [] => {}
            [(circuit, volts)] => report.find(one(panel, supply, &given, circuit, *volts)),
            _ => {
                let all: Vec<f64> = circuits.iter().map(|(_, volts)| volts.value).collect();
                report.find(several(panel, supply, &wrong, &all));
            }
        }
    }
}
