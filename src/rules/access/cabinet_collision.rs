//! A cabinet stands in nothing solid, and inside its story.

use crate::figures::FigureValue;
use crate::quantity::{Length, show_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

use super::blame::{blame, quoted};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "ACC002",
        name: "cabinet_collision",
        title: "cabinet stands in something solid",
        severity: Severity::Error,
        source: "geometry",
        why: Why {
            checks: "That the cabinet does not reach into an obstacle, a flue with its clearance, a wall, a platform, a slope, its story's ceiling or floor, or other equipment.",
            on_site: "The unit does not go where the plan shows it, and everything measured from it moves.",
            fix: "Move the unit by the distance that the report gives, or correct the size or place of the other thing.",
        },
    },
    example: Example {
        wrong: "obstacle tank on attic { corner 7 ft, 6 ft, size 2 ft x 2 ft, height 30 in }",
        right: "obstacle tank on attic { corner 20 ft, 1 ft, size 2 ft x 2 ft, height 30 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values() {
        let before = format!("unit.{}.cabinet.", unit.name);
        for figure in job.ledger.iter().filter(|one| one.id.starts_with(&before)) {
            let (FigureValue::Length(depth), Some((own, words))) =
                (&figure.value, figure.places().next())
            else {
                continue;
            };
            let way = job
                .ledger
                .word(&format!("{}.way_out", figure.id))
                .unwrap_or_default();
            let (at, (beside, beside_words)) = blame(unit, own, words);
            let words = quoted(words);
            report.find(
                Finding::new(
                    &RULE.kind,
                    at,
                    format!("the cabinet of `{}` stands in {words}", unit.name),
                    format!("move `{}` {way}", unit.name),
                )
                .measured(
                    show_length(*depth),
                    Relation::AtMost,
                    show_length(Length::ZERO),
                )
                .label(beside, beside_words),
            );
        }
    }
}
