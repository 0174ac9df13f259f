//! The breaker has a rating that is made.

use crate::physics::conductor::{largest_standard_rating_not_above, standard_rating_at_or_above};
use crate::quantity::{Current, Dimension, number_text, show_real};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Scalar, Severity, Shown, Why};

use super::Section;
use super::breaker_over_plate::edition;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR002",
        name: "breaker_not_standard",
        title: "breaker of no standard rating",
        severity: Severity::Error,
        source: "NEC 240.6(A)",
        why: Why {
            checks: "The breaker's rating is one of the standard ratings of the code edition that the job stands under.",
            on_site: "The supply house has no such breaker; the next larger one goes in.",
            fix: "Write the standard rating next below, if it still carries the plate's minimum, else the one above.",
        },
    },
    example: Example {
        wrong: "circuit ah-power to ah { from panel p1, breaker 14 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240 }",
        right: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let Some(breaker) = circuit.breaker else {
            continue;
        };
        let rating = Current::new(breaker.value);
        let below = largest_standard_rating_not_above(rating, edition(job)).map(Current::value);
        let above = standard_rating_at_or_above(rating, edition(job)).map(Current::value);
        if below == Some(breaker.value) {
            continue;
        }
        let of = |what: &str| job.ledger.real(&format!("circuit.{}.{what}", circuit.name));
        // A rating over the plate's maximum is reported as that.
        if of("most-breaker").is_some_and(|most| breaker.value > most) {
            continue;
        }
        let least = of("least-ampacity").unwrap_or(0.0);
        let most = of("most-breaker").unwrap_or(f64::INFINITY);
        let ratings: Vec<f64> = [below, above].into_iter().flatten().collect();
        let fit = ratings
            .iter()
            .copied()
            .find(|rating| (least..=most).contains(rating))
            .or(ratings.first().copied());
        let words: Vec<String> = ratings
            .iter()
            .map(|rating| format!("{} A", number_text(*rating, 0)))
            .collect();
        let mut finding = Finding::new(
            &RULE.kind,
            breaker.span,
            format!(
                "the breaker of circuit `{}` has no standard rating",
                circuit.name
            ),
            fit.map_or_else(
                || "write a standard rating, such as `15 A`".to_owned(),
                |fit| format!("write `{} A`", number_text(fit, 0)),
            ),
        )
        .measured(
            show_real(breaker.value, Dimension::Current),
            Relation::OneOf,
            Shown {
                value: Scalar::Words(words.clone()),
                unit: None,
                text: words.join(" or "),
            },
        )
        .source(Section::RATINGS.of(job));
        if let Some(fit) = fit {
            finding = finding.edit(breaker.span, format!("{} A", number_text(fit, 0)));
        }
        report.find(finding);
    }
}
