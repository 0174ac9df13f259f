//! A condensing boiler gets its water back cool enough to condense.

use super::boiler_return::{self, Asked};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD016",
        name: "return_too_warm_to_condense",
        title: "return too warm for a condensing boiler",
        severity: Severity::Advice,
        source: "common practice: flue gas of natural gas begins to condense near 130 °F",
        why: Why {
            checks: "The water that comes back to a condensing boiler at winter design against 130 °F.",
            on_site: "The boiler runs as a plain one on cold days, and the owner paid for the other.",
            fix: "Set the boiler cooler with a larger coil, or less flow, so that more heat is taken out of each gallon.",
        },
    },
    example: Example {
        wrong: r#"boiler cond { model "Test boiler", on first, center 20 ft, 10 ft, water 160 F, kind condensing }"#,
        right: r#"boiler cond { model "Test boiler", on first, center 20 ft, 10 ft, water 135 F, kind condensing }"#,
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    boiler_return::check(
        job,
        &Asked {
            rule: &RULE,
            sort: "condensing",
            relation: Relation::AtMost,
            severity: Severity::Advice,
            message: |boiler| {
                format!("water comes back to condensing boiler `{boiler}` too warm to condense")
            },
            help: "set `water` cooler and choose a larger coil, or accept it on the coldest days",
        },
        report,
    );
}
