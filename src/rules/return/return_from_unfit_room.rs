//! No return draws from a bath, kitchen, closet, garage or mechanical room.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

use super::face::returns;

/// Rooms that no return may draw from.
const UNFIT: [&str; 5] = ["bath", "kitchen", "closet", "garage", "mechanical"];

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "RET008",
        name: "return_from_unfit_room",
        title: "return in a room that none may draw from",
        severity: Severity::Error,
        source: "IRC M1602.2; IMC 601.5 (from memory)",
        why: Why {
            checks: "That the grille of a return does not stand in a room with `use` bath, kitchen, closet, garage or mechanical.",
            on_site: "Smells, moisture, fumes or flue gas are blown through the whole house.",
            fix: "Set the grille in a hall or living room.",
        },
    },
    example: Example {
        wrong: "room wash on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, use bath, unconditioned }\nreturn ret to ah.return { grille \"24 x 24 in grille\", in wash, measured 8 ft }",
        right: "room wash on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, use bath, unconditioned }\nreturn ret to ah.return { grille \"24 x 24 in grille\", in hall, measured 8 ft }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for entry in returns(job) {
        let Some(named) = entry
            .child("in")
            .and_then(|child| child.text("room").known())
        else {
            continue;
        };
        let room = job.model.house.rooms.get(&named.value);
        let Some((room, purpose)) = room.and_then(|room| Some((room, room.purpose.as_deref()?)))
        else {
            continue;
        };
        if UNFIT.contains(&purpose) {
            let name = entry
                .text("name")
                .known()
                .map_or(String::new(), |n| n.value);
            report.find(
                Finding::new(
                    &RULE.kind,
                    named.span,
                    format!("return `{name}` draws from `{}`, a {purpose}", room.name),
                    "set it in a hall or a living room",
                )
                .measured(
                    Shown::word(purpose),
                    Relation::Not,
                    Shown::word("bath, kitchen, closet, garage, mechanical"),
                )
                .label(room.span, "its use"),
            );
        }
    }
}
