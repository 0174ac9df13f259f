//! Figures that plans, schedules and charts print: sizes, places and distances, all from geometry and catalog.

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::model::{AirHandler, Direction, Extent, Model, Outlet, Room, Run, Surface, Trunk};
use crate::quantity::{Dimension, Length};

/// Enters a figure that no other system has entered.
fn missing(ledger: &mut Ledger, figure: Figure) {
    if ledger.get(&figure.id).is_none() {
        ledger.enter(figure);
    }
}

fn room(room: &Room, ledger: &mut Ledger) {
    let Some(extent) = room.extent else { return };
    let (wide, deep, high) = extent.size();
    for (quantity, length, words) in [
        ("wide", wide, "inside, west to east"),
        ("deep", deep, "inside, south to north"),
        ("high", high, "floor to ceiling"),
    ] {
        ledger.enter(
            Figure::length(format!("room.{}.{quantity}", room.name), length)
                .formula(words)
                .place(room.span, format!("room {}", room.name)),
        );
    }
    for outlet in &room.outlets {
        place_in_room(outlet, extent, ledger);
    }
}

/// An outlet's distances from two walls of its room; for one in a wall, along the wall and above the floor.
fn place_in_room(outlet: &Outlet, extent: Extent, ledger: &mut Ledger) {
    let east = (
        "from_west",
        outlet.point.x - extent.low.x,
        "from the west wall",
    );
    let north = (
        "from_south",
        outlet.point.y - extent.low.y,
        "from the south wall",
    );
    let up = (
        "above_floor",
        outlet.point.z - extent.low.z,
        "above the floor",
    );
    let distances = match outlet.surface {
        Surface::Ceiling | Surface::Floor => [east, north],
        Surface::Wall(Direction::North | Direction::South) => [east, up],
        Surface::Wall(_) => [north, up],
    };
    for (quantity, length, words) in distances {
        ledger.enter(
            Figure::length(format!("outlet.{}.{quantity}", outlet.name), length)
                .formula(words)
                .place(outlet.at, format!("place of outlet {}", outlet.name)),
        );
    }
    if let Some((far, _)) = &outlet.may_move {
        ledger.enter(
            Figure::length(format!("outlet.{}.may_move", outlet.name), *far)
                .formula("how far it may move")
                .place(outlet.span, format!("outlet {}", outlet.name)),
        );
    }
}

fn run(run: &Run, catalog: &Catalog, ledger: &mut Ledger) {
    let name = &run.name;
    if let Some(station) = run.station {
        ledger.enter(
            Figure::length(format!("run.{name}.station"), station.value)
                .formula(
                    "along the middle of the trunk from the unit's face, for a branch from its tee",
                )
                .place(station.span, format!("take-off of run {name}")),
        );
    }
    if let Some(measured) = run.measured {
        missing(
            ledger,
            Figure::length(format!("run.{name}.length"), measured.value)
                .formula("as measured by tape")
                .place(measured.span, format!("run {name}")),
        );
    }
    if let Some(bends) = run.bends {
        missing(
            ledger,
            Figure::number(format!("run.{name}.bends"), bends.value, Dimension::Count)
                .formula("right-angle bends as said")
                .place(bends.span, format!("run {name}")),
        );
    }
    let Some(tube) = &run.tube else { return };
    let Some(sheet) = catalog.tubes.get(&tube.value) else {
        return;
    };
    let collar = catalog
        .take_offs
        .values()
        .find(|collar| collar.tube.get().is_some() && collar.tube.get() == sheet.inside.get());
    if let Some((collar, hole)) = collar.and_then(|collar| Some((collar, collar.hole.get()?))) {
        ledger.enter(
            Figure::length(format!("run.{name}.hole"), hole)
                .formula("hole of the take-off collar that fits the tube")
                .source("catalog")
                .place(tube.span, format!("tube of run {name}"))
                .place(collar.hole.span, "hole of the take-off"),
        );
    }
}

fn trunk(trunk: &Trunk, ledger: &mut Ledger) {
    let name = &trunk.name;
    let mut whole = Figure::length(format!("trunk.{name}.length"), trunk.length())
        .formula("sum of its pieces along the middle");
    for (n, leg) in trunk.legs.iter().enumerate() {
        let id = format!("trunk.{name}.piece_{}.length", n + 1);
        let words = format!("piece {} of trunk {name}", n + 1);
        ledger.enter(
            Figure::length(id, leg.length)
                .formula("along the middle")
                .place(leg.span, words.clone()),
        );
        whole = whole.place(leg.span, words);
    }
    missing(ledger, whole);
    for (n, fitting) in trunk.fittings.iter().enumerate() {
        ledger.enter(
            Figure::length(
                format!("trunk.{name}.fitting_{}.station", n + 1),
                fitting.station,
            )
            .formula("along the middle of the trunk from its start")
            .place(fitting.span, fitting.kind.words()),
        );
    }
}

/// How far `space` reaches beyond the cabinet, and which way.
fn reach(cabinet: Extent, space: Extent) -> Option<(Direction, Length)> {
    [
        (Direction::East, space.high.x - cabinet.high.x),
        (Direction::West, cabinet.low.x - space.low.x),
        (Direction::North, space.high.y - cabinet.high.y),
        (Direction::South, cabinet.low.y - space.low.y),
        (Direction::Up, space.high.z - cabinet.high.z),
        (Direction::Down, cabinet.low.z - space.low.z),
    ]
    .into_iter()
    .max_by_key(|(_, far)| *far)
    .filter(|(_, far)| *far > Length::ZERO)
}

fn unit(unit: &AirHandler, floor: Option<Length>, ledger: &mut Ledger) {
    let name = &unit.name;
    let Some(cabinet) = unit.cabinet else { return };
    let (x, y, high) = cabinet.size();
    let along_x = matches!(unit.discharge, Direction::East | Direction::West);
    let (long, wide) = if along_x { (x, y) } else { (y, x) };
    let size = unit.sheet.size.span;
    for (quantity, length, words) in [
        ("long", long, "cabinet along the discharge"),
        ("wide", wide, "cabinet across the discharge"),
        ("high", high, "cabinet, bottom to top"),
    ] {
        ledger.enter(
            Figure::length(format!("air-handler.{name}.{quantity}"), length)
                .formula(words)
                .source("catalog")
                .place(size, "size of the model"),
        );
    }
    for (quantity, length, words) in [
        (
            "from_west",
            cabinet.low.x,
            "west side of the cabinet east of the origin corner",
        ),
        (
            "from_south",
            cabinet.low.y,
            "south side of the cabinet north of the origin corner",
        ),
    ] {
        ledger.enter(
            Figure::length(format!("air-handler.{name}.{quantity}"), length)
                .formula(words)
                .place(unit.span, format!("air handler {name}"))
                .place(size, "size of the model"),
        );
    }
    if let Some(floor) = floor {
        let mut figure = Figure::length(
            format!("air-handler.{name}.underside"),
            cabinet.low.z - floor,
        )
        .formula("underside of the cabinet above the floor of its story");
        figure = match &unit.stand {
            Some(stand) => figure.place(stand.span, "its stand"),
            None => figure.place(unit.span, format!("air handler {name}")),
        };
        ledger.enter(figure);
    }
    for (n, space) in unit.spaces.iter().enumerate() {
        if let Some((way, far)) = reach(cabinet, space.extent) {
            let id = format!("air-handler.{name}.space_{}", n + 1);
            ledger.enter(
                Figure::length(format!("{id}.reach"), far)
                    .formula("how far the service space reaches beyond the cabinet")
                    .source("catalog")
                    .place(space.span, space.reason.clone()),
            );
            ledger.enter(
                Figure::text(format!("{id}.side"), way.word())
                    .formula("the way the service space reaches, from the unit's discharge")
                    .place(unit.span, format!("air handler {name}"))
                    .place(space.span, space.reason.clone()),
            );
        }
    }
}

/// Enters the figures of plans, schedules and charts.
pub(super) fn enter(model: &Model, catalog: &Catalog, ledger: &mut Ledger) {
    for each in model.house.rooms.values() {
        room(each, ledger);
    }
    for each in model.air_handlers.values() {
        let floor = model
            .house
            .stories
            .get(&each.story)
            .map(|story| story.floor);
        unit(each, floor, ledger);
    }
    for each in model.trunks.values() {
        trunk(each, ledger);
    }
    for each in model.runs.values() {
        run(each, catalog, ledger);
    }
}
