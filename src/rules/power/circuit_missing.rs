//! Every unit has a circuit that feeds it.

use crate::rules::described::Trade;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::power::is_astray;

use super::units::units;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR021",
        name: "circuit_missing",
        title: "unit without a circuit",
        severity: Severity::Error,
        source: "NEC 110.3(B); common practice",
        why: Why {
            checks: "From the stage of the order on, and once the other trades are described, a circuit of the job feeds each air handler and circulator, and each outdoor unit and chiller that it names a disconnect for, itself or as a further unit, and enters the unit that it is said to feed. Otherwise it is said to be not checked.",
            on_site: "The unit hangs in the attic and nobody has ordered the cable or a place in the panel.",
            fix: "Add the circuit with its breaker and cable.",
        },
    },
    example: Example {
        wrong: "outdoor-unit ou2 { model \"Test 3-ton outdoor\", at 36 ft, 12 ft, pad 4 in }\ndisconnect ou2-switch for ou2 { distance 3 ft, rating 30 A }",
        right: "outdoor-unit ou2 { model \"Test 3-ton outdoor\", at 36 ft, 12 ft, pad 4 in }\ndisconnect ou2-switch for ou2 { distance 3 ft, rating 30 A }\ncircuit ou2-power to ou2 { from panel p1, breaker 30 A 2-pole, cable \"10/2 with ground\", measured 40 ft, volts 240 }",
    },
    check,
};

/// A circuit that enters one unit and is said to feed another.
fn astray(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values().filter(|c| is_astray(c)) {
        let Some(enters) = &circuit.enters else {
            continue;
        };
        let entered = enters.value.split_once('.').map_or("", |(unit, _)| unit);
        report.find(
            Finding::new(
                &RULE.kind,
                circuit.unit.span,
                format!(
                    "circuit `{}` is said to feed `{}` and enters `{entered}`",
                    circuit.name, circuit.unit.value
                ),
                format!("write `circuit {} to {entered}`", circuit.name),
            )
            .measured(
                Shown::word(circuit.unit.value.clone()),
                Relation::Equal,
                Shown::word(entered),
            )
            .label(enters.span, "the opening that it enters by")
            .edit(circuit.unit.span, entered),
        );
    }
}

fn check(job: &Job<'_>, report: &mut Report) {
    astray(job, report);
    for (name, span) in units(
        job.model,
        &["outdoor-unit", "chiller", "boiler", "pump", "circulator"],
    ) {
        let fed = job.model.circuits.values().any(|circuit| {
            let enters = circuit
                .enters
                .as_ref()
                .and_then(|port| port.value.split_once('.'));
            circuit.unit.value == name
                || circuit.feeds.iter().any(|further| further.value == name)
                || enters.is_some_and(|(unit, _)| unit == name)
        });
        if fed || job.model.is_misread(name) {
            continue;
        }
        let kind = job.model.equipment.get(name).map(|unit| unit.kind);
        // A circulator is new with the loop; who feeds it is asked of nobody else.
        let own = job.model.air_handlers.contains_key(name) || kind == Some("circulator");
        let switched = job
            .model
            .disconnects
            .values()
            .any(|disconnect| disconnect.unit.value == name);
        // What stands outdoors may be fed by others, unless the job names its disconnect; a boiler may have its
        // circuit already, and a condensate pump its plug.
        if !job.misses(Trade::Power) || !(own || switched) {
            report.not_checked(&RULE.kind, name, "no circuit is described yet", Some(span));
            continue;
        }
        let help = if kind == Some("circulator") {
            format!(
                "add `feeds {name}` to the circuit of its boiler, or a `circuit … to {name}` of its own"
            )
        } else {
            format!(
                "add a `circuit … to {name}` with its panel, breaker, cable, length and voltage"
            )
        };
        report.find(
            Finding::new(&RULE.kind, span, format!("no circuit feeds `{name}`"), help).measured(
                Shown::count(0),
                Relation::AtLeast,
                Shown::count(1),
            ),
        );
    }
}
