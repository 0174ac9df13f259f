//! A plain boiler gets its water back warm enough to stay dry.

use super::boiler_return::{self, Asked};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD017",
        name: "return_too_cold",
        title: "return too cold for a plain boiler",
        severity: Severity::Warning,
        source: "common practice: flue gas of natural gas begins to condense near 130 °F",
        why: Why {
            checks: "The water that comes back to a boiler that is not made to condense, at winter design, against 130 °F.",
            on_site: "Its flue gas condenses in the boiler and the chimney; acid water eats both.",
            fix: "Set the boiler hotter, or give it a bypass or mixing valve that warms the return.",
        },
    },
    example: Example {
        wrong: r#"boiler old { model "Test boiler", on first, center 20 ft, 10 ft, water 130 F, kind conventional }"#,
        right: r#"boiler old { model "Test boiler", on first, center 20 ft, 10 ft, water 160 F, kind conventional }"#,
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    boiler_return::check(
        job,
        &Asked {
            rule: &RULE,
            sort: "conventional",
            relation: Relation::AtLeast,
            severity: Severity::Warning,
            message: |boiler| {
                format!("water comes back to boiler `{boiler}` so cold that its flue gas condenses")
            },
            help: "set `water` hotter, or ask the boiler's maker for a bypass",
        },
        report,
    );
}
