//! The breaker carries what the plate asks for.

use crate::model::Circuit;
use crate::physics::conductor::standard_rating_at_or_above;
use crate::quantity::{Current, Dimension, number_text, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Span, Why};
use crate::systems::power::{cable_of, edition_of, ground_lacking, plates_of, tightest};

use super::breaker_over_plate::own_circuit;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR022",
        name: "breaker_under_plate",
        title: "breaker under the plate's minimum",
        severity: Severity::Error,
        source: "NEC 440.22(A), 424.4(B), 430.52; the equipment's catalog",
        why: Why {
            checks: "The breaker is no smaller than the minimum circuit ampacity of everything on the circuit.",
            on_site: "It trips on the first hot afternoon, and somebody puts a larger one in without looking at the cable.",
            fix: "Fit the breaker named in the report, up to the maximum on the plate.",
        },
    },
    example: Example {
        wrong: "circuit ou-power to ou { from panel p1, breaker 15 A 2-pole, cable \"10/2 with ground\", measured 40 ft, volts 240 }",
        right: "circuit ou-power to ou { from panel p1, breaker 20 A 2-pole, cable \"10/2 with ground\", measured 40 ft, volts 240 }",
    },
    check,
};

/// The units of a circuit with their verb: `ou` asks; `ou`, `ah` together ask.
pub(super) fn asking(circuit: &Circuit) -> String {
    let units: Vec<String> = circuit
        .units()
        .map(|unit| format!("`{}`", unit.value))
        .collect();
    match units.as_slice() {
        [unit] => format!("{unit} asks"),
        units => format!("{} together ask", units.join(", ")),
    }
}

/// The least standard rating that carries `least`, is no more than the plate's `most`, and asks for no thicker ground
/// than the cable's; where none does, the least that carries it.
fn fitting(job: &Job<'_>, circuit: &Circuit, (least, most): (f64, Option<f64>)) -> f64 {
    let edition = edition_of(job.model);
    let above = |amperes: f64| {
        standard_rating_at_or_above(Current::new(amperes), edition).map(Current::value)
    };
    let first = above(least).unwrap_or(least);
    let cable = cable_of(job.catalog, circuit);
    let grounded = |rating: f64| {
        let mut other = circuit.clone();
        if let Some(breaker) = &mut other.breaker {
            breaker.value = rating;
        }
        cable.is_none_or(|cable| ground_lacking(job.model, &other, cable, job.ledger).is_none())
    };
    // The next rating stands at least one ampere above.
    std::iter::successors(Some(first), |rating| above(*rating + 1.0))
        .take_while(|rating| most.is_some_and(|most| *rating <= most))
        .find(|rating| grounded(*rating))
        .unwrap_or(first)
}

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let Some(breaker) = circuit.breaker else {
            continue;
        };
        let of = |what: &str| job.ledger.real(&format!("circuit.{}.{what}", circuit.name));
        let Some(least) = of("least-ampacity") else {
            continue;
        };
        // Conductors may carry more than the largest breaker: heat larger than the compressor beside it (440.22(B)(2)).
        let most = of("most-breaker");
        let least = most
            .filter(|_| circuit.feeds.is_empty())
            .map_or(least, |most| least.min(most));
        // Over the maximum of one of several units is reported as that.
        if breaker.value >= least || most.is_some_and(|most| breaker.value > most) {
            continue;
        }
        let fit = fitting(job, circuit, (least, most));
        let (found, needed) = show_pair(breaker.value, least, Dimension::Current);
        let units = plates_of(job.model, job.catalog, circuit);
        let apart = tightest(job.model, job.catalog, circuit)
            .filter(|_| most.is_some_and(|most| most < fit));
        let help = apart.map_or_else(
            || format!("fit a breaker of `{} A`", number_text(fit, 0)),
            |(unit, _)| own_circuit(unit),
        );
        let mut finding = Finding::new(
            &RULE.kind,
            breaker.span,
            format!(
                "the breaker of circuit `{}` is smaller than what {} for",
                circuit.name,
                asking(circuit)
            ),
            help,
        )
        .measured(found, Relation::AtLeast, needed);
        if apart.is_none() {
            finding = finding.edit(breaker.span, format!("{} A", number_text(fit, 0)));
        }
        let mut plates: Vec<Span> = units
            .iter()
            .map(|(_, plate)| {
                plate
                    .least_ampacity
                    .map_or(plate.span, |stated| stated.span)
            })
            .collect();
        plates.dedup();
        for span in plates {
            finding = finding.label(span, "the plate");
        }
        for further in &circuit.feeds {
            finding = finding.label(further.span, "on the same circuit");
        }
        report.find(finding);
    }
}
