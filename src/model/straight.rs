//! Circuits and control cables against the straight way between what they join: a tape that reads less was read wrong.

use super::beyond::short;
use super::builder::Builder;
use super::place::{Extent, Point};
use crate::quantity::Length;
use crate::source::{Finding, Spanned};

/// Half of a unit's footprint, at most: its middle is what the job places.
const HALF: Length = Length::feet(3);
/// How high a unit or a panel reaches, at most.
const TALL: Length = Length::feet(7);

/// The box that a thing stands in, no smaller than the thing; none where its place is not said or not to be trusted.
fn place(builder: &Builder<'_>, name: &str) -> Option<Extent> {
    let name = name.split('.').next().unwrap_or(name);
    if builder.beyond.contains(name) {
        return None;
    }
    let model = &builder.model;
    if let Some(unit) = model.air_handlers.get(name) {
        return unit.cabinet.filter(|_| !unit.flawed);
    }
    if let Some(stat) = model.thermostats.get(name) {
        return model.house.rooms.get(&stat.room.value)?.extent;
    }
    if let Some(panel) = model.panels.get(name) {
        return Some(over(panel.point?, Length::ZERO));
    }
    let unit = model.equipment.get(name).filter(|unit| !unit.flawed)?;
    Some(over(unit.point?, HALF))
}

/// The box over a point, as tall as a thing is at most.
fn over(point: Point, by: Length) -> Extent {
    let top = Point::new(point.x + by, point.y + by, point.z + TALL);
    Extent::between(Point::new(point.x - by, point.y - by, point.z), top)
}

/// The straight way between two boxes.
fn apart(a: &Extent, b: &Extent) -> Length {
    let gap = |low: Length, high: Length, other_low: Length, other_high: Length| {
        (low - other_high).max(other_low - high).max(Length::ZERO)
    };
    Length::diagonal(
        gap(a.low.x, a.high.x, b.low.x, b.high.x),
        gap(a.low.y, a.high.y, b.low.y, b.high.y),
        gap(a.low.z, a.high.z, b.low.z, b.high.z),
    )
}

/// What joins two things: its words, its tape, its ends, and what of the way another piece takes.
struct Line<'m> {
    what: String,
    measured: Spanned<Length>,
    ends: [&'m Spanned<String>; 2],
    beside: Length,
}

fn lines<'m>(builder: &'m Builder<'_>) -> Vec<Line<'m>> {
    let model = &builder.model;
    // From the disconnect on a whip of its own may go.
    let whip = |unit: &str| {
        let own = model
            .disconnects
            .values()
            .filter(|one| one.unit.value == unit);
        own.filter_map(|one| Some(one.distance?.value))
            .max()
            .unwrap_or(Length::ZERO)
    };
    let circuits = model.circuits.values().filter_map(|circuit| {
        Some(Line {
            what: format!("circuit `{}`", circuit.name),
            measured: circuit.measured?,
            ends: [circuit.panel.as_ref()?, &circuit.unit],
            beside: whip(&circuit.unit.value),
        })
    });
    let cables = model.cables.values().filter_map(|cable| {
        Some(Line {
            what: format!("cable `{}`", cable.name),
            measured: cable.measured?,
            ends: [&cable.from, &cable.to],
            beside: Length::ZERO,
        })
    });
    circuits.chain(cables).collect()
}

/// Circuits and cables, once everything has its place.
pub(super) fn wires(builder: &Builder<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for line in lines(builder) {
        let [from, to] = line.ends.map(|end| place(builder, &end.value));
        let (Some(from), Some(to)) = (from, to) else {
            continue;
        };
        let straight = apart(&from, &to) - line.beside;
        if line.measured.value < straight {
            let [from, _] = line.ends;
            findings.push(short(
                &line.what,
                &line.measured,
                straight,
                (from.span, "where it starts"),
            ));
        }
    }
    findings.extend(disconnects(builder));
    findings
}

/// Disconnects that are said to stand nearer to their unit than their place allows.
fn disconnects(builder: &Builder<'_>) -> Vec<Finding> {
    let all = builder.model.disconnects.values();
    all.filter_map(|one| {
        let (at, distance) = (one.at.as_ref()?, one.distance?);
        let unit = place(builder, &one.unit.value)?;
        let own = over(at.value, Length::ZERO);
        let straight = apart(&own, &unit);
        let what = format!("the distance of disconnect `{}`", one.name);
        let from = (at.span, "where it stands");
        (distance.value < straight).then(|| short(&what, &distance, straight, from))
    })
    .collect()
}
