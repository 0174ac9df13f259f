//! The circuit of an outdoor unit is GFCI protected where the edition asks for it.

use crate::physics::conductor::Edition;
use crate::rules::described::Trade;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};
use crate::systems::power::{edition_of, is_astray};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR030",
        name: "outdoor_circuit_unprotected",
        title: "outdoor unit without GFCI protection",
        severity: Severity::Warning,
        source: "NEC 210.8(F) (2020 and later); many places delete or delay it",
        why: Why {
            checks: "From the stage of the order on, once the trades are described: under the electrical code of 2020 and later the circuit of an outdoor unit or chiller, up to 50 A and 150 V to ground, is GFCI protected. For air-conditioning equipment that is listed the text of 2023 delays this to 1 September 2026, by the date of the job's latest revision, and many states and cities delete it.",
            on_site: "The inspector asks for it, and the breaker in stock does not fit the panel.",
            fix: "Ask the inspector. Where it is in force, fit a GFCI breaker that the maker allows and write `gfci` in the circuit; where it is not, waive this with the reason.",
        },
    },
    example: Example {
        wrong: "circuit ou-power to ou { from panel p1, breaker 30 A 2-pole, cable \"10/2 with ground\", measured 40 ft, volts 240 }",
        right: "circuit ou-power to ou { from panel p1, breaker 30 A 2-pole, cable \"10/2 with ground\", measured 40 ft, volts 240, gfci }",
    },
    check,
};

/// Most of a breaker that this holds for, A (NEC 210.8(F)).
const MOST: f64 = 50.0;
/// End of the delay for listed equipment in the edition of 2023.
const END: &str = "2026-09-01";

fn check(job: &Job<'_>, report: &mut Report) {
    let edition = edition_of(job.model);
    let latest = job
        .model
        .job
        .revisions
        .iter()
        .map(|revision| revision.date.value.as_str())
        .max();
    let delayed = edition >= Edition::new(2023) && latest.is_none_or(|date| date < END);
    if edition < Edition::new(2020) || delayed {
        return;
    }
    for circuit in job.model.circuits.values() {
        let stands_outdoors = |name: &str| {
            job.model.equipment.get(name).is_some_and(|unit| {
                matches!(unit.kind, "outdoor-unit" | "chiller") && unit.story.is_none()
            })
        };
        let outdoors = circuit.units().find(|unit| stands_outdoors(&unit.value));
        let Some(breaker) = circuit.breaker.filter(|breaker| breaker.value <= MOST) else {
            continue;
        };
        let Some(unit) = outdoors else { continue };
        if circuit.gfci.is_some() || circuit.flawed || is_astray(circuit) {
            continue;
        }
        if !job.misses(Trade::Power) {
            let thing = format!("circuit {}", circuit.name);
            let reason = "GFCI protection is asked for once the job is described";
            report.not_checked(&RULE.kind, thing, reason, Some(circuit.span));
            continue;
        }
        let mut finding = Finding::new(
            &RULE.kind,
            breaker.span,
            format!(
                "the breaker of circuit `{}` gives no GFCI protection to `{}`, which stands outdoors",
                circuit.name, unit.value
            ),
            "ask the inspector whether it is in force there; then write `gfci`, or waive this with the reason",
        )
        .measured(
            Shown::word("no protection"),
            Relation::Equal,
            Shown::word("GFCI"),
        )
        .source(format!("NEC {}, 210.8(F)", edition.year()));
        if let Some(volts) = circuit.volts {
            let after = Span::new(volts.span.file, volts.span.end, volts.span.end);
            finding = finding.edit(after, ", gfci");
        }
        report.find(finding);
    }
}
