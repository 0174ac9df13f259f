//! Before a disconnect somebody can stand and work.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Kind, Severity, Why};

use super::front::{Asked, judge};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR037",
        name: "disconnect_space_blocked",
        title: "working space before a disconnect blocked",
        severity: Severity::Warning,
        source: "NEC 110.26(A); 440.14 (2023 and later)",
        why: Why {
            checks: "Before a disconnect that says where it stands (`at`) and which way its front looks (`faces`), 3 ft deep and 6 1/2 ft high, a stretch of 30 in holds its whole width and nothing stands in it. An air handler, a boiler, a wall, a flue, any obstacle and a roof that comes down count indoors; the outdoor units, its own among them, and the house itself count outdoors. Since the edition of 2023 section 440.14 asks this by name of the disconnects of air-conditioning equipment: an error; before, inspectors differed, and it is a warning. What the disconnect sits on or in leaves its front clear.",
            on_site: "The tech leans over the running outdoor unit to pull the disconnect behind it, a hand's breadth from live stabs.",
            fix: "Set the disconnect beside the unit, not behind it, or move what stands there.",
        },
    },
    example: Example {
        wrong: "outdoor-unit ou5 { model \"Test 3-ton outdoor\", at 34 ft, 18 ft, pad 4 in }\ndisconnect ou5-switch for ou5 { distance 3 ft, rating 30 A, at 31 ft, 18 ft, faces east }",
        right: "outdoor-unit ou5 { model \"Test 3-ton outdoor\", at 34 ft, 18 ft, pad 4 in }\ndisconnect ou5-switch for ou5 { distance 3 ft, rating 30 A, at 31 ft, 21 ft, faces east }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let model = job.model;
    // A unit that was misread, or is turned against its trunk, is told as that.
    let stands = |unit: &String| {
        let mut trunks = model.trunks.values();
        (model.air_handlers.contains_key(unit) || model.equipment.contains_key(unit))
            && !trunks.any(|trunk| trunk.misplaced && trunk.unit.as_ref() == Some(unit))
    };
    let all = model.disconnects.values();
    for disconnect in all.filter(|one| stands(&one.unit.value)) {
        let asked = Asked::of_disconnect(job, disconnect);
        judge(job, &RULE.kind, &asked, report);
    }
}
