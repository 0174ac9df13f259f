//! The breaker protects the conductors, save where the plate of air-conditioning equipment rules.

use crate::physics::conductor::{largest_standard_rating_not_above, standard_rating_at_or_above};
use crate::quantity::{Current, Dimension, number_text, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};
use crate::systems::power::{cable_of, plates_of};

use super::Section;
use super::breaker_over_plate::edition;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR005",
        name: "breaker_over_conductor",
        title: "breaker too large for its conductors",
        severity: Severity::Error,
        source: "NEC 240.4(D), 240.4(B)",
        why: Why {
            checks: "On boilers, pumps and the like the breaker is at most 15 A on 14 AWG, 20 A on 12 AWG and 30 A on 10 AWG, and otherwise the next standard rating above the ampacity. Circuits of air handlers and outdoor units alone are left out: their breaker goes by the plate, NEC 240.4(G).",
            on_site: "The wire is the fuse.",
            fix: "Fit the smaller breaker named in the report, or thicker cable.",
        },
    },
    example: Example {
        wrong: "circuit heater-power to heater { from panel p1, breaker 20 A 1-pole, cable \"14/2 with ground\", measured 20 ft, volts 120 }",
        right: "circuit heater-power to heater { from panel p1, breaker 15 A 1-pole, cable \"14/2 with ground\", measured 20 ft, volts 120 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let (Some(breaker), Some(cable)) = (circuit.breaker, cable_of(job.catalog, circuit)) else {
            continue;
        };
        let plates = plates_of(job.model, job.catalog, circuit);
        if plates.is_empty() {
            continue;
        }
        let of = |what: &str| job.ledger.real(&format!("circuit.{}.{what}", circuit.name));
        // Over the plate's maximum is reported as that.
        if plates.iter().all(|(_, plate)| plate.is_freed())
            || of("most-breaker").is_some_and(|most| breaker.value > most)
        {
            continue;
        }
        let Some(carried) = of("ampacity") else {
            continue;
        };
        let next =
            standard_rating_at_or_above(Current::new(carried), edition(job)).map(Current::value);
        let Some(most) = [of("small-conductor-limit"), next]
            .into_iter()
            .flatten()
            .min_by(f64::total_cmp)
        else {
            continue;
        };
        if breaker.value <= most {
            continue;
        }
        let fit = largest_standard_rating_not_above(Current::new(most), edition(job))
            .map_or(most, Current::value);
        let (found, needed) = show_pair(breaker.value, most, Dimension::Current);
        report.find(
            Finding::new(
                &RULE.kind,
                breaker.span,
                format!(
                    "the breaker of circuit `{}` is too large for its conductors",
                    circuit.name
                ),
                format!(
                    "fit a breaker of `{} A`, or use thicker cable",
                    number_text(fit, 0)
                ),
            )
            .measured(found, Relation::AtMost, needed)
            .source(Section::SMALL_CONDUCTORS.of(job))
            .label(
                circuit.cable.as_ref().map_or(cable.span, |item| item.span),
                "the cable",
            )
            .edit(breaker.span, format!("{} A", number_text(fit, 0))),
        );
    }
}
