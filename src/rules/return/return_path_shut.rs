//! With its doors shut, a room's air finds its way back without blowing the room up.

use crate::model::Room;
use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

use super::face::returns;

/// Greatest pressure in a room against the house with its doors shut, in. w.c.: 3 Pa, common practice of tests of
/// houses, from memory.
const MOST: f64 = 3.0 / 249.088_91;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "RET007",
        name: "return_path_shut",
        title: "no way back for a closed room's air",
        severity: Severity::Warning,
        source: "common practice, 3 Pa (from memory)",
        why: Why {
            checks: "The pressure in a room with outlets, doors and no return of its own while its doors are shut: what its solved airflow takes to pass under the doors and through its transfer grilles, by the orifice formula, is at most 0.012 in. w.c. (3 Pa). A hall, living room or kitchen without a drawn door is taken to be open.",
            on_site: "Behind the shut door the outlets weaken, the room stays warm, air is pressed into its walls, and the rest of the house draws from attic, garage and flues.",
            fix: "Cut the door higher, or give the room a transfer grille, a short duct to the hall, or a return of its own.",
        },
    },
    example: Example {
        wrong: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, door nd in south at 2 ft, width 30 in, undercut 1/4 in, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 14 ft, bends 2 }",
        right: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, door nd in south at 2 ft, width 30 in, undercut 1/2 in, transfer 60 in2, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 14 ft, bends 2 }",
    },
    check,
};

/// Whether a room that is fed is one that usually has a door: halls, living rooms and kitchens without a drawn one
/// are taken to be open.
fn shuts(room: &Room) -> bool {
    let open = matches!(room.purpose.as_deref(), Some("hall" | "living" | "kitchen"));
    !open && !room.outlets.is_empty() && !room.unconditioned && !room.flawed
}

fn check(job: &Job<'_>, report: &mut Report) {
    let own = Limit::default_of(MOST, RULE.kind.source, RULE.kind.severity);
    let name = ("pressure", Dimension::Pressure);
    let limit = job.limit(&RULE.kind, name, Relation::AtMost, own, report);
    let back: Vec<String> = returns(job)
        .filter_map(|entry| entry.child("in")?.text("room").known())
        .map(|room| room.value)
        .collect();
    let mut undrawn: Vec<String> = Vec::new();
    for room in job.model.house.rooms.values() {
        let id = |what: &str| format!("room.{}.{what}", room.name);
        let shut = job.ledger.real(&id("open-area")) == Some(0.0);
        let pressure = job.ledger.real(&id("door-pressure"));
        let Some(found) = pressure else {
            if shut {
                report.find(
                    Finding::new(
                        &RULE.kind,
                        room.span,
                        format!(
                            "air blown into room `{}` has no way out with its doors shut",
                            room.name
                        ),
                        "give its door an `undercut`, or the room a `transfer` grille or a return",
                    )
                    .severity(limit.severity),
                );
            } else if job.ledger.get(&id("door-pressure")).is_some() {
                let thing = format!("room `{}`", room.name);
                report.not_known(
                    &RULE.kind,
                    thing,
                    (job.ledger, &id("door-pressure")),
                    room.span,
                );
            } else if shuts(room) && !back.contains(&room.name) {
                undrawn.push(format!("room `{}`", room.name));
            }
            continue;
        };
        if found <= limit.value {
            continue;
        }
        // Pressure falls by the square of the open area.
        let area = job.ledger.real(&id("open-area")).unwrap_or_default();
        let more = area * libm::sqrt(found / limit.value) - area;
        let (shown, needed) = show_pair(found, limit.value, Dimension::Pressure);
        let finding = Finding::new(
            &RULE.kind,
            room.span,
            format!(
                "with its doors shut, the air of room `{}` can't get back",
                room.name
            ),
            format!(
                "write `transfer {} in2`, or give it a return of its own",
                crate::quantity::number_text(libm::ceil(more), 0)
            ),
        )
        .measured(shown, Relation::AtMost, needed);
        report.find(limit.mark(finding));
    }
    if !back.is_empty() && !undrawn.is_empty() {
        report.not_checked(
            &RULE.kind,
            undrawn.join(", "),
            "no door is drawn that says how the air gets back to the return",
            None,
        );
    }
}
