//! The breaker is no larger than the plate allows.

use crate::physics::conductor::{Edition, largest_standard_rating_not_above};
use crate::quantity::{Current, Dimension, number_text, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Spanned, Why};
use crate::systems::power::{edition_of, plate_of, plate_of_unit, tightest};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR001",
        name: "breaker_over_plate",
        title: "breaker over the plate's maximum",
        severity: Severity::Error,
        source: "NEC 110.3(B), 440.22(C)",
        why: Why {
            checks: "The breaker is no larger than the maximum on the plate of each unit that the circuit feeds, at the voltage setting in force.",
            on_site: "A shorted motor burns on for as long as the breaker lets it; the inspector reads the plate first.",
            fix: "Fit the breaker named in the report.",
        },
    },
    example: Example {
        wrong: "circuit ah-power to ah { from panel p1, breaker 20 A 2-pole, cable \"12/2 with ground\", measured 62 ft, volts 240 }",
        right: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"12/2 with ground\", measured 62 ft, volts 240 }",
    },
    check,
};

/// The edition of the electrical code that the job stands under.
pub(super) fn edition(job: &Job<'_>) -> Edition {
    edition_of(job.model)
}

/// What helps where no breaker serves all units of a circuit.
pub(super) fn own_circuit(unit: &Spanned<String>) -> String {
    format!(
        "no breaker serves everything on this circuit: give `{}` a circuit of its own",
        unit.value
    )
}

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let (Some(breaker), Some(_)) = (circuit.breaker, plate_of(job.model, job.catalog, circuit))
        else {
            continue;
        };
        let of = |what: &str| format!("circuit.{}.{what}", circuit.name);
        let id = of("most-breaker");
        let Some(most) = job.ledger.real(&id) else {
            report.not_known(
                &RULE.kind,
                format!("circuit {}", circuit.name),
                (job.ledger, &id),
                breaker.span,
            );
            continue;
        };
        if breaker.value <= most {
            continue;
        }
        let Some((unit, at)) = tightest(job.model, job.catalog, circuit) else {
            continue;
        };
        let plate = plate_of_unit(job.model, job.catalog, &unit.value);
        let fit = largest_standard_rating_not_above(Current::new(most), edition(job))
            .map_or(most, Current::value);
        let (found, needed) = show_pair(breaker.value, most, Dimension::Current);
        let setting = plate
            .and_then(|plate| plate.setting)
            .map_or_else(String::new, |(name, _)| format!(" at setting `{name}`"));
        // With the breaker of one unit the others of the circuit cannot run.
        let apart = !circuit.feeds.is_empty()
            && job
                .ledger
                .real(&of("least-ampacity"))
                .is_some_and(|least| least > fit);
        let help = if apart {
            own_circuit(unit)
        } else {
            format!("fit a breaker of `{} A`", number_text(fit, 0))
        };
        let mut finding = Finding::new(
            &RULE.kind,
            breaker.span,
            format!(
                "the breaker of circuit `{}` is larger than the plate of `{}` allows{setting}",
                circuit.name, unit.value
            ),
            help,
        )
        .measured(found, Relation::AtMost, needed)
        .label(at, "maximum breaker on the plate");
        if !circuit.feeds.is_empty() {
            finding = finding.label(unit.span, "on this circuit");
        }
        if !apart {
            finding = finding.edit(breaker.span, format!("{} A", number_text(fit, 0)));
        }
        report.find(finding);
    }
}
