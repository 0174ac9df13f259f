//! Before a panel somebody can stand and work.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Kind, Severity, Why};

use super::front::{Asked, judge};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR029",
        name: "panel_space_blocked",
        title: "working space before a panel blocked",
        severity: Severity::Error,
        source: "NEC 110.26(A)",
        why: Why {
            checks: "Before a panel whose front is said to look somewhere, 3 ft deep and 6 1/2 ft high, a stretch of 30 in, or as wide as the panel where that is more, holds the panel's whole width and nothing stands in it. An air handler, a boiler, a wall, a flue, any obstacle and a roof that comes down count, unless they are said to come away.",
            on_site: "The electrician leans over a boiler into live lugs, or the door of the panel opens half.",
            fix: "Move what stands there, or set it beside the space.",
        },
    },
    example: Example {
        wrong: "panel p2 on first { at 30 ft, 6 ft, faces west, supply 240/120 }\nobstacle tank on first { corner 28 ft, 5 ft, size 18 in x 2 ft, height 5 ft }",
        right: "panel p2 on first { at 30 ft, 6 ft, faces west, supply 240/120 }\nobstacle tank on first { corner 25 ft, 5 ft, size 18 in x 2 ft, height 5 ft }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for panel in job.model.panels.values() {
        judge(job, &RULE.kind, &Asked::of_panel(job, panel), report);
    }
}
