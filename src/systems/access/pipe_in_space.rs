//! Legs of trunk and drain that lie in a unit's service space.

use crate::catalog::{Catalog, Section, TrunkHere};
use crate::figures::{Figure, Ledger};
use crate::model::{AirHandler, Direction, Extent, Model, PlacedSpace, Point, Trunk, TrunkLeg};
use crate::quantity::Length;

/// The box of a leg of trunk with its pipe's section; none while that is not known.
pub(super) fn leg_box(leg: &TrunkLeg, catalog: &Catalog) -> Option<Extent> {
    let pipe = catalog.trunk_pipes.get(&leg.pipe.as_ref()?.value)?;
    let (wide, high) = match pipe.section.get()? {
        Section::Rectangular(wide, high) => (wide.half(), high.half()),
        section => (section.across().half(), section.across().half()),
    };
    let none = Length::ZERO;
    let by = match leg.direction {
        Direction::North | Direction::South => Point::new(wide, none, high),
        Direction::East | Direction::West => Point::new(none, wide, high),
        Direction::Up | Direction::Down => Point::new(wide, wide, none),
    };
    let flat = Extent::between(leg.start, leg.end);
    let moved =
        |p: Point, way: i64| Point::new(p.x + by.x * way, p.y + by.y * way, p.z + by.z * way);
    Some(Extent {
        low: moved(flat.low, -1),
        high: moved(flat.high, 1),
    })
}

/// How much of a leg lies in a space, along the leg.
fn along(direction: Direction, shared: &Extent) -> Length {
    let (x, y, z) = shared.size();
    match direction {
        Direction::East | Direction::West => x,
        Direction::North | Direction::South => y,
        Direction::Up | Direction::Down => z,
    }
}

/// Whether the missing removable piece of the unit's own trunk is the whole fault: it is judged there.
fn judged_as_first_piece(trunk: &Trunk, unit: &AirHandler, ledger: &Ledger) -> bool {
    let stated = unit.sheet.air.first_removable.get();
    let needed = stated.unwrap_or(Length::inches(18));
    let has = ledger.length(&format!("trunk.{}.first_removable", trunk.name));
    trunk.unit.as_deref() == Some(unit.name.as_str()) && has.is_some_and(|has| has < needed)
}

/// Enters each leg of trunk that lies in a space where the catalog does not want it.
pub(super) fn trunks(
    model: &Model,
    catalog: &Catalog,
    unit: &AirHandler,
    space: &PlacedSpace,
    id: &str,
    ledger: &mut Ledger,
) {
    if space.trunk == TrunkHere::MayPass {
        return;
    }
    let may_come_off = space.trunk == TrunkHere::IfRemovable;
    for trunk in model.trunks.values().filter(|trunk| !trunk.misplaced) {
        if may_come_off && judged_as_first_piece(trunk, unit, ledger) {
            continue;
        }
        for (n, leg) in trunk.legs.iter().enumerate() {
            if may_come_off && leg.removable {
                continue;
            }
            let own = leg_box(leg, catalog);
            let Some(shared) = own.and_then(|own| own.overlap(&space.extent)) else {
                continue;
            };
            let id = format!("{id}.trunk-{}-leg{}", trunk.name, n + 1);
            ledger.enter(
                Figure::length(id, along(leg.direction, &shared))
                    .formula("how much of this leg of trunk lies in it")
                    .place(leg.span, format!("trunk {}", trunk.name))
                    .place(space.span, space.reason.clone()),
            );
        }
    }
}

/// Enters each leg of drain in a space, by the line of its invert; the way straight out of the unit's own port,
/// and down from it, is the port's stub.
pub(super) fn drains(
    model: &Model,
    unit: &AirHandler,
    space: &PlacedSpace,
    id: &str,
    ledger: &mut Ledger,
) {
    for drain in model.drains.values() {
        let port = drain
            .port
            .value
            .split_once('.')
            .map_or("", |(_, port)| port);
        let own = (drain.unit == unit.name).then(|| unit.port(port)).flatten();
        let mut stub = own.is_some();
        for (n, leg) in drain.legs.iter().enumerate() {
            stub &= leg.direction == Direction::Down
                || own.is_some_and(|port| port.facing == leg.direction);
            let line = Extent::between(leg.start, leg.end);
            let Some(shared) = line_in(&line, &space.extent).filter(|_| !stub) else {
                continue;
            };
            let id = format!("{id}.drain-{}-leg{}", drain.name, n + 1);
            ledger.enter(
                Figure::length(id, along(leg.direction, &shared))
                    .formula("how much of this leg of drain lies in it, by the line of its invert")
                    .place(leg.span, format!("drain {}", drain.name))
                    .place(space.span, space.reason.clone()),
            );
        }
    }
}

/// The part of a line that lies inside a box and not just on its face.
fn line_in(line: &Extent, space: &Extent) -> Option<Extent> {
    let hair = Length::from_nm(1);
    let thick = |low: Length, high: Length| (low, if low == high { low + hair } else { high });
    let inside =
        |(low, high): (Length, Length), at: Length, end: Length| at != end || low < at && at < high;
    let (x, y, z) = (
        thick(line.low.x, line.high.x),
        thick(line.low.y, line.high.y),
        thick(line.low.z, line.high.z),
    );
    let own = Extent {
        low: Point::new(x.0, y.0, z.0),
        high: Point::new(x.1, y.1, z.1),
    };
    let all = inside((space.low.x, space.high.x), line.low.x, line.high.x)
        && inside((space.low.y, space.high.y), line.low.y, line.high.y)
        && inside((space.low.z, space.high.z), line.low.z, line.high.z);
    all.then(|| own.overlap(space)).flatten()
}
