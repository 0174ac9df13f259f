//! The way through an attic to a unit is at most 20 ft long, or 50 ft where one can walk upright.

use crate::quantity::{Dimension, Length, show_length_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "ACC008",
        name: "passage_too_long",
        title: "way to the unit longer than the code allows",
        severity: Severity::Error,
        source: "IRC M1305.1.3; IMC 306.3",
        why: Why {
            checks: "The length of the way from an attic opening to the unit along its middle: at most 20 ft, or 50 ft where it is 6 ft high and 22 in wide all along. \
                     Some places ask less, some more.",
            on_site: "The inspector does not pass it, and the unit is looked after less than it needs.",
            fix: "Set the unit nearer the opening, or make an opening nearer the unit.",
        },
    },
    example: Example {
        wrong: "access-path crawl from hatch to ah { length 21 ft, clear 30 in x 60 in, floored 24 in }",
        right: "access-path crawl from hatch to ah { length 20 ft, clear 30 in x 60 in, floored 24 in }",
    },
    check,
};

const CRAWLED: Length = Length::feet(20);
const WALKED: Length = Length::feet(50);

fn check(job: &Job<'_>, report: &mut Report) {
    let house = &job.model.house;
    for path in &house.paths {
        if !house.hatches.contains_key(&path.from.value) {
            continue;
        }
        let Some(length) = path.length else {
            let thing = format!("way {}", path.name);
            report.not_checked(
                &RULE.kind,
                thing,
                "its length is not known yet",
                Some(path.span),
            );
            continue;
        };
        let upright =
            path.clear.0.value >= Length::inches(22) && path.clear.1.value >= Length::feet(6);
        let (name, own, source) = if upright {
            ("length-upright", WALKED, "IMC 306.3")
        } else {
            ("length", CRAWLED, "IRC M1305.1.3")
        };
        let own = Limit::default_of(own, source, Severity::Error);
        let name = (name, Dimension::Length);
        let limit = job.limit(&RULE.kind, name, Relation::AtMost, own, report);
        if length.value <= limit.value {
            continue;
        }
        let (found, needed) = show_length_pair(length.value, limit.value);
        let help = if upright {
            format!("set `{}` nearer the opening", path.to.value)
        } else {
            format!(
                "set `{}` nearer the opening, or clear the way to 6 ft high and 22 in wide: then 50 ft are allowed",
                path.to.value
            )
        };
        let finding = Finding::new(
            &RULE.kind,
            length.span,
            format!("way `{}` to `{}` is too long", path.name, path.to.value),
            help,
        )
        .measured(found, Relation::AtMost, needed);
        report.find(limit.mark(finding));
    }
}
