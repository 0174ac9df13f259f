//! The breaker carries what the plate asks for.

use crate::physics::conductor::standard_rating_at_or_above;
use crate::quantity::{Current, Dimension, number_text, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};
use crate::systems::power::{edition_of, plate_of};

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

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let Some(breaker) = circuit.breaker else {
            continue;
        };
        let of = |what: &str| job.ledger.real(&format!("circuit.{}.{what}", circuit.name));
        let Some(least) = of("least-ampacity") else {
            continue;
        };
        if breaker.value >= least {
            continue;
        }
        let fit = standard_rating_at_or_above(Current::new(least), edition_of(job.model))
            .map_or(least, Current::value);
        let fit = of("most-breaker").map_or(fit, |most| fit.min(most));
        let (found, needed) = show_pair(breaker.value, least, Dimension::Current);
        let mut finding = Finding::new(
            &RULE.kind,
            breaker.span,
            format!(
                "the breaker of circuit `{}` is smaller than what `{}` asks for",
                circuit.name, circuit.unit.value
            ),
            format!("fit a breaker of `{} A`", number_text(fit, 0)),
        )
        .measured(found, Relation::AtLeast, needed)
        .edit(breaker.span, format!("{} A", number_text(fit, 0)));
        if let Some(plate) = plate_of(job.model, job.catalog, circuit) {
            let span = plate
                .least_ampacity
                .map_or(plate.span, |stated| stated.span);
            finding = finding.label(span, "the plate");
        }
        for further in &circuit.feeds {
            finding = finding.label(further.span, "on the same circuit");
        }
        report.find(finding);
    }
}
