//! Air-conditioning equipment with a circuit has a disconnect.

use crate::model::Stage;
use crate::rules::described::Trade;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::power::is_astray;

use super::units::units;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR023",
        name: "disconnect_missing",
        title: "unit without a disconnect",
        severity: Severity::Error,
        source: "NEC 440.14, 440.3",
        why: Why {
            checks: "From the stage of the order on, once the trades are described or another disconnect is named, each air handler, outdoor unit and chiller that a circuit of the job feeds has a disconnect. It may sit on or in the unit, and is then written with a distance of nothing.",
            on_site: "The hand in the blower has nothing to lock but a panel two floors below.",
            fix: "Add a disconnect within sight of the unit.",
        },
    },
    example: Example {
        wrong: "outdoor-unit ou3 { model \"Test 3-ton outdoor\", at 36 ft, 12 ft, pad 4 in }\ncircuit ou3-power to ou3 { from panel p1, breaker 30 A 2-pole, cable \"10/2 with ground\", measured 40 ft, volts 240 }",
        right: "outdoor-unit ou3 { model \"Test 3-ton outdoor\", at 36 ft, 12 ft, pad 4 in }\ncircuit ou3-power to ou3 { from panel p1, breaker 30 A 2-pole, cable \"10/2 with ground\", measured 40 ft, volts 240 }\ndisconnect ou3-switch for ou3 { distance 4 ft, rating 30 A }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for (name, span) in units(job.model, &["outdoor-unit", "chiller"]) {
        let switched = |unit: &str| unit == name;
        let mut circuits = job
            .model
            .circuits
            .values()
            .filter(|circuit| circuit.serves(name) && !is_astray(circuit));
        let Some(circuit) = circuits.next() else {
            continue;
        };
        let has = job
            .model
            .disconnects
            .values()
            .any(|disconnect| switched(&disconnect.unit.value));
        if has || job.model.is_misread(name) || circuit.flawed {
            continue;
        }
        // A job that names no disconnect and describes one trade alone leaves it to others.
        let described = job.misses(Trade::Power) || !job.model.disconnects.is_empty();
        if job.model.job.stage < Stage::Order || !described {
            report.not_checked(
                &RULE.kind,
                name,
                "no disconnect is described yet",
                Some(span),
            );
            continue;
        }
        let rating = circuit.breaker.map_or_else(
            || "30 A".to_owned(),
            |breaker| {
                let at_least = if breaker.value > 30.0 {
                    60.0_f64.max(breaker.value)
                } else {
                    30.0
                };
                format!("{} A", crate::quantity::number_text(at_least, 0))
            },
        );
        report.find(
            Finding::new(
                &RULE.kind,
                circuit.span,
                format!("nothing within sight of `{name}` switches it off"),
                format!(
                    "add `disconnect {name}-switch for {name} {{ distance 3 ft, rating {rating} }}`"
                ),
            )
            .measured(Shown::count(0), Relation::AtLeast, Shown::count(1))
            .label(span, "the unit"),
        );
    }
}
