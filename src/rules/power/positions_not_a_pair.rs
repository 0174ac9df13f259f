//! A two-pole breaker takes two positions one under the other, a single pole one.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

use super::positions::{fits, free_place, needed, numbers, place_words, taken};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR017",
        name: "positions_not_a_pair",
        title: "breaker positions that do not fit its poles",
        severity: Severity::Error,
        source: "common practice: odd positions left, even ones right; NEC 240.15(B) for the common trip",
        why: Why {
            checks: "A two-pole breaker takes two positions one under the other on the same side of the panel, such as 14 and 16; a single pole takes one.",
            on_site: "The breaker does not go in as written; two single poles in its place leave one leg live when the other trips.",
            fix: "Write the pair of positions named in the report.",
        },
    },
    example: Example {
        wrong: "circuit ah-power to ah { from panel p1, breaker-positions 13 14, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240 }",
        right: "circuit ah-power to ah { from panel p1, breaker-positions 14 16, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let (Some(first), Some(last)) = (circuit.positions.first(), circuit.positions.last())
        else {
            continue;
        };
        let own: Vec<u32> = numbers(circuit).collect();
        let Some(count) = needed(circuit) else {
            continue;
        };
        // Positions that are not numbered can't be judged; a wrong number of poles is reported as that.
        let of = |what: &str| job.ledger.real(&format!("circuit.{}.{what}", circuit.name));
        let poles_wrong = of("poles")
            .zip(of("poles-needed"))
            .is_some_and(|(found, needed)| found.to_bits() != needed.to_bits());
        if poles_wrong || fits(circuit) {
            continue;
        }
        let place = free_place(circuit, &taken(job, circuit));
        let words = place.as_deref().map(place_words);
        let span = first.span.to(last.span);
        let needed = if count == 2 {
            "two positions one under the other"
        } else {
            "one position"
        };
        let mut finding = Finding::new(
            &RULE.kind,
            span,
            format!(
                "the positions of circuit `{}` do not fit its {count}-pole breaker",
                circuit.name
            ),
            words.as_ref().map_or_else(
                || "write the positions that its breaker takes".to_owned(),
                |words| format!("write `breaker-positions {words}`"),
            ),
        )
        .measured(
            Shown::word(place_words(&own)),
            Relation::Equal,
            Shown::word(words.clone().unwrap_or_else(|| needed.to_owned())),
        );
        if let Some(poles) = &circuit.poles {
            finding = finding.label(poles.span, format!("takes {needed}"));
        }
        if let Some(words) = words {
            finding = finding.edit(span, words);
        }
        report.find(finding);
    }
}
