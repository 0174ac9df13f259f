//! A unit whose plate asks for fuses has fuses, no larger than its maximum.

use crate::catalog::Stated;
use crate::model::Circuit;
use crate::physics::conductor::largest_standard_rating_not_above;
use crate::quantity::{Current, Dimension, number_text, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Spanned, Why};
use crate::systems::power::{Plate, edition_of, plates_of};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR031",
        name: "fuses_missing",
        title: "fuses that the plate asks for missing or too large",
        severity: Severity::Error,
        source: "NEC 110.3(B), 440.22(C), from memory",
        why: Why {
            checks: "Where the plate asks for fuses only, a disconnect of the unit holds fuses, and they are no larger than the plate's maximum. A breaker in the panel does not stand in for them.",
            on_site: "The breaker is slower than the fuse the unit was tried with: a shorted contactor burns before it trips.",
            fix: "Fit a fused disconnect at the unit, with fuses of the rating named in the report.",
        },
    },
    example: Example {
        wrong: "disconnect second for ah { distance 3 ft, rating 60 A, fuses 40 A }",
        right: "disconnect second for ah { distance 3 ft, rating 60 A, fuses 30 A }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        for (unit, plate) in plates_of(job.model, job.catalog, circuit) {
            if let Some(breaker) = circuit.breaker {
                check_unit(job, circuit, (unit, plate), breaker, report);
            }
        }
    }
}

fn check_unit(
    job: &Job<'_>,
    circuit: &Circuit,
    (unit, plate): (&Spanned<String>, Plate<'_>),
    breaker: Spanned<f64>,
    report: &mut Report,
) {
    let Some(asked) = plate.fuses_only.filter(|asked| asked.get() == Some(true)) else {
        return;
    };
    let id = format!("circuit.{}.most-breaker", circuit.name);
    let own = plate.most_breaker.and_then(Stated::get).map(Current::value);
    let Some(most) = own.or_else(|| job.ledger.real(&id)) else {
        report.not_known(
            &RULE.kind,
            format!("circuit {}", circuit.name),
            (job.ledger, &id),
            breaker.span,
        );
        return;
    };
    let unit = &unit.value;
    let fit = largest_standard_rating_not_above(Current::new(most), edition_of(job.model))
        .map_or(most, Current::value);
    let fit = format!("{} A", number_text(fit, 0));
    let mut fused = job
        .model
        .disconnects
        .values()
        .filter(|disconnect| disconnect.unit.value == *unit)
        .filter_map(|disconnect| Some((disconnect, disconnect.fuses?)))
        .peekable();
    let at = plate.most_breaker.map_or(plate.span, |stated| stated.span);
    if fused.peek().is_none() {
        report.find(
            Finding::new(
                &RULE.kind,
                breaker.span,
                format!("the plate of `{unit}` asks for fuses, and only a breaker protects it"),
                format!("fit a fused disconnect and write `fuses {fit}` in it"),
            )
            .measured(
                Shown::word("breaker"),
                Relation::Equal,
                Shown::word("fuses"),
            )
            .label(asked.span, "the plate asks for fuses"),
        );
    }
    for (disconnect, fuses) in fused {
        if fuses.value <= most {
            continue;
        }
        let (found, needed) = show_pair(fuses.value, most, Dimension::Current);
        report.find(
            Finding::new(
                &RULE.kind,
                fuses.span,
                format!(
                    "the fuses in `{}` are larger than the plate of `{unit}` allows",
                    disconnect.name
                ),
                format!("write `fuses {fit}`"),
            )
            .measured(found, Relation::AtMost, needed)
            .label(at, "maximum on the plate")
            .edit(fuses.span, fit.clone()),
        );
    }
}
