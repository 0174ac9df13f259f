//! The breaker has as many poles as the plate asks for.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Scalar, Severity, Shown, Why};
use crate::systems::power::{plate_of, plates_of};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR003",
        name: "breaker_poles_wrong",
        title: "breaker with the wrong number of poles",
        severity: Severity::Error,
        source: "NEC 240.15(B), 110.3(B)",
        why: Why {
            checks: "A circuit of two hot conductors has a two-pole breaker with common trip, one of hot and neutral a single pole, as the plate says.",
            on_site: "With one pole too few a conductor stays live when the breaker is off; with one too many the neutral is broken.",
            fix: "Fit the breaker that the plate asks for.",
        },
    },
    example: Example {
        wrong: "circuit ah-power to ah { from panel p1, breaker 15 A 1-pole, cable \"14/2 with ground\", measured 62 ft, volts 240 }",
        right: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240 }",
    },
    check,
};

fn words(count: f64) -> Shown {
    Shown {
        value: Scalar::Number(count),
        unit: None,
        text: format!("{count}-pole"),
    }
}

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let of = |what: &str| job.ledger.real(&format!("circuit.{}.{what}", circuit.name));
        let (Some(found), Some(needed), Some(poles)) =
            (of("poles"), of("poles-needed"), &circuit.poles)
        else {
            continue;
        };
        let plate = plate_of(job.model, job.catalog, circuit);
        // A voltage outside the setting is reported as that: the other setting may want other poles.
        let outside = plate.as_ref().is_some_and(|plate| {
            plate
                .supply
                .get()
                .zip(circuit.volts)
                .is_some_and(|(range, volts)| {
                    !range.holds(crate::quantity::Voltage::new(volts.value))
                })
        });
        if found.to_bits() == needed.to_bits() || outside {
            continue;
        }
        let mut finding = Finding::new(
            &RULE.kind,
            poles.span,
            format!(
                "the breaker of circuit `{}` has the wrong number of poles",
                circuit.name
            ),
            format!("fit a breaker with `{needed}-pole`"),
        )
        .measured(words(found), Relation::Equal, words(needed))
        .edit(poles.span, format!("{needed}-pole"));
        if let Some(stated) = plate.and_then(|plate| plate.poles) {
            finding = finding.label(stated.span, "poles on the plate");
        }
        report.find(finding);
    }
    further(job, report);
}

/// A further unit on a circuit whose plate asks for other poles than its breaker has.
fn further(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let id = format!("circuit.{}.poles", circuit.name);
        let (Some(found), Some(poles)) = (job.ledger.real(&id), &circuit.poles) else {
            continue;
        };
        let plates = plates_of(job.model, job.catalog, circuit);
        for (unit, plate) in plates.into_iter().skip(1) {
            let Some((needed, stated)) = plate.poles_needed() else {
                continue;
            };
            let needed = needed as f64;
            if found.to_bits() == needed.to_bits() {
                continue;
            }
            let own = format!("circuit.{}.poles-needed", circuit.name);
            let first = job.ledger.real(&own);
            let help = match first {
                Some(first) if first.to_bits() != needed.to_bits() => {
                    format!("give `{}` a circuit of its own", unit.value)
                }
                _ => format!("fit a breaker with `{needed}-pole`"),
            };
            let mut finding = Finding::new(
                &RULE.kind,
                unit.span,
                format!(
                    "the breaker of circuit `{}` has the wrong number of poles for `{}`",
                    circuit.name, unit.value
                ),
                help,
            )
            .measured(words(found), Relation::Equal, words(needed))
            .label(poles.span, "the breaker")
            .label(stated, "poles on the plate");
            if first.is_none() {
                finding = finding.edit(poles.span, format!("{needed}-pole"));
            }
            report.find(finding);
        }
    }
}
