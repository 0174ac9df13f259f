//! Along the way through an attic lies a solid floor, at least 24 in wide.

use crate::quantity::{Dimension, Length, fraction_inches, show_length_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "ACC009",
        name: "passage_floor_narrow",
        title: "floor along the way to the unit too narrow",
        severity: Severity::Error,
        source: "IRC M1305.1.3",
        why: Why {
            checks: "That a continuous solid floor of at least 24 in lies along the way from an attic opening to the unit.",
            on_site: "Somebody steps beside the joist and through the ceiling.",
            fix: "Floor the way, and say its width after `floored`.",
        },
    },
    example: Example {
        wrong: "access-path crawl from hatch to ah { length 6 ft, clear 30 in x 60 in, floored 16 in }",
        right: "access-path crawl from hatch to ah { length 6 ft, clear 30 in x 60 in, floored 24 in }",
    },
    check,
};

const WIDTH: Length = Length::inches(24);

fn check(job: &Job<'_>, report: &mut Report) {
    let house = &job.model.house;
    for path in &house.paths {
        if !house.hatches.contains_key(&path.from.value) {
            continue;
        }
        let Some(floored) = path.floored else {
            let thing = format!("way {}", path.name);
            report.not_checked(
                &RULE.kind,
                thing,
                "the width of its floor is not given",
                Some(path.span),
            );
            continue;
        };
        let own = Limit::default_of(WIDTH, "IRC M1305.1.3", Severity::Error);
        let name = ("width", Dimension::Length);
        let limit = job.limit(&RULE.kind, name, Relation::AtLeast, own, report);
        if floored.value >= limit.value {
            continue;
        }
        let (found, needed) = show_length_pair(floored.value, limit.value);
        let better = format!("{} in", fraction_inches(limit.value, 16));
        let finding = Finding::new(
            &RULE.kind,
            floored.span,
            format!(
                "the floor along way `{}` to `{}` is too narrow",
                path.name, path.to.value
            ),
            format!("floor it wider, and write `floored {better}`"),
        )
        .measured(found, Relation::AtLeast, needed)
        .edit(floored.span, better);
        report.find(limit.mark(finding));
    }
}
