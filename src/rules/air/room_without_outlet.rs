//! A room that is to be kept comfortable has at least one outlet, or is served by a room that has.

use crate::figures::figure_id;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR001",
        name: "room_without_outlet",
        title: "conditioned room without an outlet",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "Every conditioned room has a supply outlet of its own, or says which room's air serves it.",
            on_site: "The room stays hot in summer and cold in winter, and the ceiling is opened a second time.",
            fix: "Add an outlet and its run, say `served by` and the room whose air reaches it, or mark it `unconditioned`.",
        },
    },
    example: Example {
        wrong: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, heating 900 Btu/h }",
        right: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, heating 900 Btu/h, served by den }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for room in job.model.house.rooms.values() {
        if room.unconditioned || room.served_by.is_some() || room.flawed {
            continue;
        }
        let outlets = job
            .ledger
            .real(&figure_id(["room.", &room.name, ".outlets"]));
        if outlets.is_none_or(|n| n > 0.0) {
            continue;
        }
        report.find(
            Finding::new(
                &RULE.kind,
                room.span,
                format!("room `{}` is conditioned and has no outlet", room.name),
                format!("add `outlet {}1 in ceiling at …`, or say `served by` the room whose air reaches it", room.name),
            )
            .measured(Shown::count(0), Relation::AtLeast, Shown::count(1)),
        );
    }
}
