//! The legs of a hot-water pipe lead from the coil's port to the boiler.

use crate::model::{Direction, HotWater, WaterPart, WaterPipe};
use crate::quantity::{Length, length_text, show_length_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD027",
        name: "water_pipe_misses_boiler",
        title: "hot-water pipe whose heights do not meet its boiler",
        severity: Severity::Warning,
        source: "geometry of the coil's ports, the legs and the boiler",
        why: Why {
            checks: "Counted from the coil's port along its legs, a pipe meets the boiler between its base and its top. What the tape found beyond the legs may be upright too, and counts as room.",
            on_site: "A leg is missing or has the wrong length: the pipe is cut and does not meet the boiler, and the vent, the fill and the cold spaces were judged at heights that are not there.",
            fix: "Correct the upright legs, or the heights of story, stand and unit.",
        },
    },
    example: Example {
        wrong: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, up 19 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }"#,
        right: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, up 9 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }"#,
    },
    check,
};

/// The longest upright leg: the likeliest place of a wrong length.
fn upright(pipe: &WaterPipe) -> Span {
    pipe.legs
        .iter()
        .filter(|leg| matches!(leg.direction, Direction::Up | Direction::Down))
        .max_by_key(|leg| leg.length)
        .map_or(pipe.span, |leg| leg.span)
}

/// Whether the heights rest on a mistake that has a rule of its own: an open loop, a coil joined the wrong way round
/// or set in another coil's place.
fn told_elsewhere(water: &HotWater, pipe: &WaterPipe) -> bool {
    let Some(found) = water.loop_of(&pipe.name) else {
        return false;
    };
    let turned = |part: &&WaterPart| matches!(part, WaterPart::Coil { backward: true, .. });
    let second = |name: &str| {
        let coil = water.coils.get(name);
        let first = coil.and_then(|coil| water.coil_in(&coil.unit.value));
        first.is_some_and(|first| first.name != name)
    };
    found.open_at.is_some()
        || found.every().iter().any(turned)
        || found.coils().into_iter().any(second)
}

fn check(job: &Job<'_>, report: &mut Report) {
    let water = &job.model.water;
    for pipe in water.pipes.values() {
        let id = format!("water-pipe.{}.at-boiler", pipe.name);
        let Some(meets) = job.ledger.length(&id) else {
            continue;
        };
        if told_elsewhere(water, pipe) {
            continue;
        }
        let boiler = [&pipe.from, &pipe.to]
            .into_iter()
            .find_map(|end| water.boilers.get(&end.thing));
        let Some((boiler, base)) = boiler.and_then(|boiler| {
            let point = job.model.equipment.get(&boiler.name)?.point?;
            Some((boiler, point.z))
        }) else {
            continue;
        };
        let sheet = boiler
            .model
            .as_ref()
            .and_then(|named| job.catalog.boilers.get(&named.value));
        let top = sheet.and_then(|sheet| Some(base + sheet.size.get()?.height));
        let drawn: Length = pipe.legs.iter().map(|leg| leg.length).sum();
        let room = pipe
            .length()
            .map_or(Length::ZERO, |length| (length - drawn).max(Length::ZERO));
        let (relation, edge, needed) = match top {
            Some(top) if meets > top + room => (Relation::AtMost, top, top + room),
            _ if meets < base - room => (Relation::AtLeast, base, base - room),
            _ => continue,
        };
        let high = relation == Relation::AtMost;
        // Of what rises from the boiler, too much puts its lower end too low.
        let rises = pipe.climb() > Some(Length::ZERO);
        let from_boiler = pipe.from.thing == boiler.name;
        let long = high != (rises == from_boiler);
        let apart = |from: Length| length_text((meets - from).max(from - meets));
        let way = if high {
            "above its top"
        } else {
            "below its base"
        };
        let taped = if room > Length::ZERO {
            format!(
                ", and its taped length holds {} beyond its legs",
                length_text(room)
            )
        } else {
            String::new()
        };
        let (found, least) = show_length_pair(meets, needed);
        report.find(
            Finding::new(
                &RULE.kind,
                upright(pipe),
                format!(
                    "by its legs from the coil, water pipe `{}` comes to boiler `{}` {} {way}{taped}",
                    pipe.name,
                    boiler.name,
                    apart(edge)
                ),
                format!(
                    "the upright legs are {} too {}: correct them, or the height at which the unit stands",
                    apart(needed),
                    if long { "long" } else { "short" },
                ),
            )
            .measured(found, relation, least)
            .label(boiler.span, "the boiler"),
        );
    }
}
