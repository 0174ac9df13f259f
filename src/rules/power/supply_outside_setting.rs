//! The circuit's voltage lies in the range of the setting in force.

use crate::catalog::{Poles, Range, Stated, VoltageSetting};
use crate::model::Circuit;
use crate::quantity::{Dimension, Voltage, number_text, show_real};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Scalar, Severity, Shown, Why};
use crate::systems::power::{plate_of, plate_of_unit, voltages};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR007",
        name: "supply_outside_setting",
        title: "supply voltage outside the unit's setting",
        severity: Severity::Error,
        source: "NEC 110.3(B), 440.4; the equipment's catalog",
        why: Why {
            checks: "The circuit's voltage lies in the supply range of the blower's voltage setting; where the job names no setting, the one it is shipped with.",
            on_site: "At double voltage the motor burns within minutes; at half it hums, does not start, and burns later.",
            fix: "Feed the unit at the voltage of its setting, or convert it and say so with `voltage-setting`.",
        },
    },
    example: Example {
        wrong: "circuit ah-power to ah { from panel p1, breaker 15 A 1-pole, cable \"14/2 with ground\", measured 62 ft, volts 120 }",
        right: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240 }",
    },
    check,
};

/// How much of the circuit agrees with a setting: its breaker's poles, and each landing.
fn speaks_for(circuit: &Circuit, setting: &VoltageSetting) -> usize {
    let poles = match setting.poles.get() {
        Some(Poles::One) => "1-pole",
        Some(Poles::Two) => "2-pole",
        None => "",
    };
    let agrees = circuit.poles.as_ref().is_some_and(|own| own.value == poles);
    let lands = &setting.lands;
    let terminals: Vec<String> = [
        Some(&lands.line_1),
        lands.line_2.as_ref(),
        lands.neutral.as_ref(),
    ]
    .into_iter()
    .flatten()
    .filter_map(Stated::get)
    .collect();
    let landed = circuit
        .landings
        .iter()
        .filter(|landing| terminals.contains(&landing.terminal.value))
        .count();
    usize::from(agrees) + landed
}

/// A voltage of the circuit's panel that the setting takes.
fn volts_given(job: &Job<'_>, circuit: &Circuit, range: &Range<Voltage>) -> Option<f64> {
    let panel = job.model.panels.get(&circuit.panel.as_ref()?.value)?;
    let supply = panel.supply.as_ref()?;
    voltages(&supply.value)
        .into_iter()
        .find(|volts| range.holds(Voltage::new(*volts)))
}

/// A further unit on a circuit whose voltage its plate does not take.
fn further(job: &Job<'_>, circuit: &Circuit, report: &mut Report) {
    let Some(volts) = circuit.volts else { return };
    // A voltage that the circuit's own unit does not take either is told there, once.
    let own = plate_of(job.model, job.catalog, circuit).and_then(|plate| plate.supply.get());
    if own.is_some_and(|range| !range.holds(Voltage::new(volts.value))) {
        return;
    }
    for unit in &circuit.feeds {
        let plate = plate_of_unit(job.model, job.catalog, &unit.value);
        let Some((plate, range)) = plate.and_then(|plate| Some((plate, plate.supply.get()?)))
        else {
            continue;
        };
        if range.holds(Voltage::new(volts.value)) {
            continue;
        }
        let (least, most) = (range.least.value(), range.most.value());
        let ends = |and: &str| {
            format!(
                "{} V {and} {} V",
                number_text(least, 0),
                number_text(most, 0)
            )
        };
        report.find(
            Finding::new(
                &RULE.kind,
                unit.span,
                format!(
                    "circuit `{}` feeds `{}` outside its plate",
                    circuit.name, unit.value
                ),
                format!("feed it by a circuit of its own at {}", ends("to")),
            )
            .measured(
                show_real(volts.value, Dimension::Voltage),
                Relation::Between,
                Shown {
                    value: Scalar::Pair(least, most),
                    unit: Dimension::Voltage.unit(),
                    text: ends("and"),
                },
            )
            .label(volts.span, "the circuit's voltage")
            .label(plate.supply.span, "supply voltages on the plate"),
        );
    }
}

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        further(job, circuit, report);
        let (Some(volts), Some(plate)) = (circuit.volts, plate_of(job.model, job.catalog, circuit))
        else {
            continue;
        };
        let thing = format!("circuit {}", circuit.name);
        let Some(range) = plate.supply.get() else {
            let reason = plate.supply.reason().unwrap_or("not given");
            report.not_checked(&RULE.kind, thing, reason, Some(volts.span));
            continue;
        };
        if range.holds(Voltage::new(volts.value)) {
            continue;
        }
        let unit = job.model.air_handlers.get(&circuit.unit.value);
        let other = unit.and_then(|unit| {
            unit.sheet.electrical.settings.iter().find(|(_, setting)| {
                setting
                    .supply
                    .get()
                    .is_some_and(|range| range.holds(Voltage::new(volts.value)))
            })
        });
        let (least, most) = (range.least.value(), range.most.value());
        let ends = format!("{} V to {} V", number_text(least, 0), number_text(most, 0));
        let volts_wrong = other.is_none_or(|(_, other)| {
            plate
                .setting
                .is_some_and(|(_, own)| speaks_for(circuit, own) > speaks_for(circuit, other))
        });
        let given = volts_given(job, circuit, &range);
        let help = match (other, given) {
            (_, Some(given)) if volts_wrong => {
                format!("write `volts {}`", number_text(given, 0))
            }
            (Some((name, _)), _) => {
                format!("write `voltage-setting \"{name}\"` in the unit, or feed it at {ends}")
            }
            (None, _) => format!("feed the unit at {ends}"),
        };
        let message = match plate.setting {
            Some((name, _)) => format!(
                "circuit `{}` feeds `{}` outside its setting `{name}`",
                circuit.name, circuit.unit.value
            ),
            None => format!(
                "circuit `{}` feeds `{}` outside its plate",
                circuit.name, circuit.unit.value
            ),
        };
        let mut finding = Finding::new(&RULE.kind, volts.span, message, help)
            .measured(
                show_real(volts.value, Dimension::Voltage),
                Relation::Between,
                Shown {
                    value: Scalar::Pair(least, most),
                    unit: Dimension::Voltage.unit(),
                    text: format!("{} V and {} V", number_text(least, 0), number_text(most, 0)),
                },
            )
            .label(
                plate.supply.span,
                if plate.setting.is_some() {
                    "supply voltages of the setting"
                } else {
                    "supply voltages on the plate"
                },
            );
        if let Some(setting) = unit.and_then(|unit| unit.setting.as_ref()) {
            finding = finding.label(setting.span, "the setting");
            if let (Some((name, _)), false) = (other, volts_wrong) {
                finding = finding.edit(setting.span, format!("\"{name}\""));
            }
        }
        if let (Some(given), true) = (given, volts_wrong) {
            finding = finding.edit(volts.span, number_text(given, 0));
        }
        report.find(finding);
    }
}
