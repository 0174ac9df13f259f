//! A disconnect carries what its breaker lets through.

use crate::quantity::{Dimension, number_text, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR018",
        name: "disconnect_too_small",
        title: "disconnect with too small a rating",
        severity: Severity::Error,
        source: "NEC 110.3(B), 440.12(A)",
        why: Why {
            checks: "The rating of a disconnect is no less than that of the breaker before it, nor than the plate's minimum circuit ampacity.",
            on_site: "The blades of the switch overheat and weld, and the unit cannot be switched off any more.",
            fix: "Fit a disconnect with the rating named in the report.",
        },
    },
    example: Example {
        wrong: "disconnect second for ah { distance 3 ft, rating 10 A }",
        right: "disconnect second for ah { distance 3 ft, rating 30 A }",
    },
    check,
};

/// Ratings in which disconnects for houses are sold, A (common practice).
const RATINGS: &[f64] = &[30.0, 60.0, 100.0, 200.0];

fn check(job: &Job<'_>, report: &mut Report) {
    for disconnect in job.model.disconnects.values() {
        let id = |what: &str| format!("disconnect.{}.{what}", disconnect.name);
        let (Some(rating), Some(needed)) =
            (disconnect.rating, job.ledger.real(&id("rating-needed")))
        else {
            continue;
        };
        if rating.value >= needed {
            continue;
        }
        // A breaker over the plate's maximum is the mistake then, not the switch behind it.
        let over = job.model.circuits.values().any(|circuit| {
            let of = |what: &str| job.ledger.real(&format!("circuit.{}.{what}", circuit.name));
            circuit.serves(&disconnect.unit.value)
                && of("breaker")
                    .zip(of("most-breaker"))
                    .is_some_and(|(breaker, most)| breaker > most)
                && of("most-breaker").is_some_and(|most| rating.value >= most)
        });
        if over {
            continue;
        }
        let fit = RATINGS
            .iter()
            .copied()
            .find(|sold| *sold >= needed)
            .unwrap_or(needed);
        let fit = format!("{} A", number_text(fit, 0));
        let (found, needed) = show_pair(rating.value, needed, Dimension::Current);
        let mut finding = Finding::new(
            &RULE.kind,
            rating.span,
            format!(
                "disconnect `{}` is rated less than the circuit of `{}`",
                disconnect.name, disconnect.unit.value
            ),
            format!("write `rating {fit}`"),
        )
        .measured(found, Relation::AtLeast, needed)
        .edit(rating.span, fit);
        if let Some(breaker) = job
            .model
            .circuits
            .values()
            .find(|circuit| circuit.serves(&disconnect.unit.value))
            .and_then(|circuit| circuit.breaker)
        {
            finding = finding.label(breaker.span, "the breaker before it");
        }
        report.find(finding);
    }
}
