//! Every point where people stay in a room lies within the mixing reach of an outlet that it sees.

use crate::figures::{FigureValue, figure_id};
use crate::model::Room;
use crate::quantity::{Dimension, Length, show_length_pair, trade_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR010",
        name: "room_beyond_reach",
        title: "point of a room beyond the reach of its outlets",
        severity: Severity::Error,
        source: "the outlet's catalog; 15 ft is common practice",
        why: Why {
            checks: "The distance in space from the farthest point of the occupied zone (floor to 6 ft up, 1 ft off the walls) to the nearest outlet in line of sight. \
                     The catalog says how far an outlet's air mixes; where the outlet is not named, 15 ft is common practice and the finding is a warning. \
                     Walls and other things that stand from floor to ceiling hide what is behind them.",
            on_site: "The far end of the room stays hot in summer and cold in winter, whatever the thermostat says.",
            fix: "Add an outlet near the point that the report gives, or move the nearest one toward it.",
        },
    },
    example: Example {
        wrong: "room gallery on first { corner 0 ft, 12 ft, size 20 ft x 6 ft, outlet g1 in ceiling at 1 ft, 3 ft }\nrun g1 from main at 5 ft, side north { tube \"2 in sound tube\", measured 18 ft, bends 2 }",
        right: "room gallery on first { corner 0 ft, 12 ft, size 20 ft x 6 ft, outlet g1 in ceiling at 10 ft, 3 ft }\nrun g1 from main at 5 ft, side north { tube \"2 in sound tube\", measured 18 ft, bends 2 }",
    },
    check,
};

const PRACTICE: Length = Length::feet(15);

fn check(job: &Job<'_>, report: &mut Report) {
    for room in job.model.house.rooms.values() {
        let id = |quantity: &str| figure_id(["room.", &room.name, ".", quantity]);
        let Some(figure) = job.ledger.get(&id("farthest_point")) else {
            continue;
        };
        let FigureValue::Length(distance) = figure.value else {
            report.find(hidden(job, room));
            continue;
        };
        let own = match (job.ledger.length(&id("reach")), place_of(job, &id("reach"))) {
            (Some(reach), Some(span)) => Limit::of_catalog(reach, span),
            _ => Limit::default_of(PRACTICE, "common practice", Severity::Warning),
        };
        let name = ("reach", Dimension::Length);
        let limit = job.limit(&RULE.kind, name, Relation::AtMost, own, report);
        if distance > limit.value {
            report.find(limit.mark(beyond(job, room, distance, limit.value)));
        }
    }
}

fn place_of(job: &Job<'_>, id: &str) -> Option<Span> {
    job.ledger.get(id)?.places().next().map(|(span, _)| span)
}

fn beyond(job: &Job<'_>, room: &Room, distance: Length, reach: Length) -> Finding {
    let word = |quantity: &str| {
        job.ledger
            .word(&figure_id(["room.", &room.name, ".", quantity]))
            .unwrap_or_default()
    };
    let (at, near) = (word("farthest_at"), word("farthest_outlet"));
    let (found, needed) = show_length_pair(distance, reach);
    let finding = Finding::new(
        &RULE.kind,
        room.span,
        format!(
            "a point of room `{}` lies beyond the reach of its outlets: {at}",
            room.name
        ),
        format!(
            "add an outlet within {} of that point, or move `{near}` toward it",
            trade_length(reach)
        ),
    )
    .measured(found, Relation::AtMost, needed);
    match room.outlets.iter().find(|outlet| outlet.name == near) {
        Some(outlet) => finding.label(outlet.at, "the nearest outlet"),
        None => finding,
    }
}

fn hidden(job: &Job<'_>, room: &Room) -> Finding {
    let at = job
        .ledger
        .word(&figure_id(["room.", &room.name, ".farthest_at"]))
        .unwrap_or_default();
    let finding = Finding::new(
        &RULE.kind,
        room.span,
        format!(
            "a part of room `{}` sees none of its outlets: {at}",
            room.name
        ),
        "add an outlet in that part, or make it a room of its own",
    )
    .severity(Severity::Warning)
    .source("common practice")
    .measured(
        Shown::word("no outlet in sight"),
        Relation::AtLeast,
        Shown::word("1 outlet in sight"),
    );
    let screens = job.model.house.solids.iter().filter(|solid| {
        room.extent
            .is_some_and(|room| solid.extent.overlap(&room).is_some())
    });
    screens.fold(finding, |finding, solid| {
        finding.label(solid.span, format!("`{}` stands in the room", solid.name))
    })
}
