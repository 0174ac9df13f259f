//! The way through an attic is at least 30 in high and 22 in wide.

use crate::figures::FigureValue;
use crate::quantity::{Dimension, Length, fraction_inches, show_length_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "ACC007",
        name: "passage_too_small",
        title: "way to the unit narrower or lower than the code asks",
        severity: Severity::Error,
        source: "IRC M1305.1.3",
        why: Why {
            checks: "That the way from an attic opening to the unit is clear for at least 22 in across and 30 in up, over its whole length.",
            on_site: "Nobody crawls there with a motor under the arm, and the unit is not looked after.",
            fix: "Clear the way, or set the unit nearer the opening.",
        },
    },
    example: Example {
        wrong: "access-path crawl from hatch to ah { length 6 ft, clear 21 in x 60 in, floored 24 in }",
        right: "access-path crawl from hatch to ah { length 6 ft, clear 22 in x 60 in, floored 24 in }",
    },
    check,
};

const WIDTH: Length = Length::inches(22);
const HEIGHT: Length = Length::inches(30);

fn check(job: &Job<'_>, report: &mut Report) {
    let house = &job.model.house;
    for path in &house.paths {
        let id = format!("access-path.{}.passes.{}", path.name, path.to.value);
        let blocked = job.ledger.get(&id).map(|figure| &figure.value);
        if !house.hatches.contains_key(&path.from.value)
            || blocked == Some(&FigureValue::Bool(false))
        {
            continue;
        }
        let sides = [
            ("width", "narrow", path.clear.0, WIDTH),
            ("height", "low", path.clear.1, HEIGHT),
        ];
        for (name, word, clear, least) in sides {
            let own = Limit::default_of(least, "IRC M1305.1.3", Severity::Error);
            let name = (name, Dimension::Length);
            let limit = job.limit(&RULE.kind, name, Relation::AtLeast, own, report);
            if clear.value >= limit.value {
                continue;
            }
            let (found, needed) = show_length_pair(clear.value, limit.value);
            let finding = Finding::new(
                &RULE.kind,
                clear.span,
                format!("way `{}` to `{}` is too {word}", path.name, path.to.value),
                format!(
                    "clear it to `{} in`, or set `{}` nearer the opening",
                    fraction_inches(limit.value, 16),
                    path.to.value
                ),
            )
            .measured(found, Relation::AtLeast, needed)
            .label(path.span, format!("way `{}`", path.name));
            report.find(limit.mark(finding));
        }
    }
}
