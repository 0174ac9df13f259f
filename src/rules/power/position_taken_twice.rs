//! Each breaker position of a panel holds one circuit.

use crate::model::Circuit;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Spanned, Why};

use super::positions::{fits, free_place, place_words, taken};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR016",
        name: "position_taken_twice",
        title: "breaker position taken twice",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "No two circuits of a panel take the same breaker position.",
            on_site: "The second breaker has no place to go in, and the directory in the door is wrong from the first day.",
            fix: "Give one of the circuits the free positions named in the report.",
        },
    },
    example: Example {
        wrong: "boiler b2 { model \"Test boiler\", on first, center 24 ft, 10 ft }\ncircuit b2-power to b2 { from panel p1, breaker-positions 16, breaker 15 A 1-pole, cable \"14/2 with ground\", measured 20 ft, volts 120 }",
        right: "boiler b2 { model \"Test boiler\", on first, center 24 ft, 10 ft }\ncircuit b2-power to b2 { from panel p1, breaker-positions 18, breaker 15 A 1-pole, cable \"14/2 with ground\", measured 20 ft, volts 120 }",
    },
    check,
};

fn same_panel(one: &Circuit, other: &Circuit) -> bool {
    let panel = |circuit: &Circuit| circuit.panel.as_ref().map(|panel| panel.value.clone());
    panel(one) == panel(other)
}

fn check(job: &Job<'_>, report: &mut Report) {
    for (n, circuit) in job.model.circuits.values().enumerate() {
        let earlier = || {
            job.model
                .circuits
                .values()
                .take(n)
                .filter(|other| same_panel(circuit, other) && fits(other))
        };
        // Positions that are no pair are reported as that.
        if !fits(circuit) {
            continue;
        }
        let clash: Option<(&Spanned<String>, &Circuit, &Spanned<String>)> =
            circuit.positions.iter().find_map(|position| {
                earlier().find_map(|other| {
                    let same = other.positions.iter().find(|p| p.value == position.value);
                    same.map(|same| (position, other, same))
                })
            });
        let Some((position, other, same)) = clash else {
            continue;
        };
        let taken = taken(job, circuit);
        let place = free_place(circuit, &taken);
        let mut finding = Finding::new(
            &RULE.kind,
            position.span,
            format!(
                "position {} of circuit `{}` is taken by circuit `{}`",
                position.value, circuit.name, other.name
            ),
            place.as_ref().map_or_else(
                || "give one of the two another position".to_owned(),
                |place| format!("write `breaker-positions {}`", place_words(place)),
            ),
        )
        .measured(Shown::count(2), Relation::AtMost, Shown::count(1))
        .label(same.span, format!("taken by circuit `{}`", other.name));
        if let (Some(place), Some(first), Some(last)) =
            (place, circuit.positions.first(), circuit.positions.last())
        {
            finding = finding.edit(first.span.to(last.span), place_words(&place));
        }
        report.find(finding);
    }
}
