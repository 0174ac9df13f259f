//! Runs: where each leaves its trunk, how far that is from every fitting, its length and its bends.

use crate::figures::{Figure, Ledger, figure_id};
use crate::model::{Direction, FittingKind, Model, Run, Trunk};
use crate::quantity::{Dimension, Length};

/// Enters the figures of all runs.
pub(super) fn enter(model: &Model, ledger: &mut Ledger) {
    for run in model.runs.values() {
        if let Some(measured) = &run.measured {
            ledger.enter(
                Figure::length(figure_id(["run.", &run.name, ".length"]), measured.value)
                    .formula("its length by tape, from trunk to outlet")
                    .source("measured")
                    .place(measured.span, "measured"),
            );
        }
        if let Some(bends) = &run.bends {
            ledger.enter(
                Figure::number(
                    figure_id(["run.", &run.name, ".bends"]),
                    bends.value,
                    Dimension::Count,
                )
                .formula("number of right-angle bends that it takes")
                .source("counted")
                .place(bends.span, "bends"),
            );
        }
        straight(model, run, ledger);
        let Some(trunk) = model.trunks.get(&run.trunk.value) else {
            continue;
        };
        if run.take_off.is_none() || trunk.flawed {
            continue;
        }
        distances(run, trunk, ledger);
        neighbour(model, run, trunk, ledger);
    }
}

fn straight(model: &Model, run: &Run, ledger: &mut Ledger) {
    let outlet = run
        .outlet
        .as_ref()
        .and_then(|name| model.house.outlet(name));
    let (Some(straight), Some(outlet)) = (run.straight, outlet) else {
        return;
    };
    let mut figure = Figure::length(figure_id(["run.", &run.name, ".straight"]), straight)
        .formula(
            "straight distance in space from the take-off on the trunk's middle line to the outlet",
        )
        .place(outlet.at, format!("place of outlet {}", outlet.name));
    if let Some(station) = &run.station {
        figure = figure.place(station.span, "distance of the take-off along the trunk");
    }
    ledger.enter(figure);
}

/// The word by which the figures of a take-off name a fitting.
const fn id_word(kind: &FittingKind) -> &'static str {
    match kind {
        FittingKind::Unit => "unit",
        FittingKind::Start => "start",
        FittingKind::Tee(_) => "tee",
        FittingKind::Elbow => "elbow",
        FittingKind::Cap => "cap",
        FittingKind::End => "end",
    }
}

/// The nearest fitting of each sort, along the trunk's middle line.
fn distances(run: &Run, trunk: &Trunk, ledger: &mut Ledger) {
    let Some(station) = &run.station else { return };
    for word in ["unit", "start", "tee", "elbow", "cap", "end"] {
        let nearest = trunk
            .fittings
            .iter()
            .filter(|fitting| id_word(&fitting.kind) == word)
            .min_by_key(|fitting| (fitting.station - station.value).abs());
        let Some(nearest) = nearest else { continue };
        ledger.enter(
            Figure::length(
                figure_id(["run.", &run.name, ".take_off_to_", word]),
                (nearest.station - station.value).abs(),
            )
            .formula(format!(
                "distance along the trunk's middle line from the take-off to {}",
                nearest.kind.words()
            ))
            .place(station.span, "distance of the take-off along the trunk")
            .place(nearest.span, nearest.kind.words()),
        );
    }
}

/// The plan or vertical direction in which a run leaves its trunk.
fn leaves_toward(run: &Run, trunk: &Trunk) -> Option<Direction> {
    let along = trunk.leg_at(run.station.as_ref()?.value)?.direction;
    Some(match run.side.as_ref()?.value.as_str() {
        "left" => along.left(),
        "right" => along.left().opposite(),
        "top" => Direction::Up,
        "bottom" => Direction::Down,
        word => Direction::named(word)?,
    })
}

/// The next take-off on the same side, nearer the trunk's start.
fn neighbour(model: &Model, run: &Run, trunk: &Trunk, ledger: &mut Ledger) {
    let (Some(station), Some(side)) = (&run.station, leaves_toward(run, trunk)) else {
        return;
    };
    if let Some(said) = &run.side {
        ledger.enter(
            Figure::text(
                figure_id(["run.", &run.name, ".leaves_toward"]),
                side.word(),
            )
            .formula("the direction in the house in which it leaves the trunk")
            .place(said.span, "its side"),
        );
    }
    let order = |run: &Run| {
        let place = model.runs.get_index_of(&run.name);
        run.station.map(|station| (station.value, place))
    };
    let before = model
        .runs
        .values()
        .filter(|other| other.name != run.name && other.trunk.value == run.trunk.value)
        .filter(|other| order(other) < order(run) && order(other).is_some())
        .filter(|other| leaves_toward(other, trunk) == Some(side))
        .max_by_key(|other| order(other));
    let Some((before, at)) = before.and_then(|before| Some((before, before.station?))) else {
        return;
    };
    let gap: Length = station.value - at.value;
    ledger.enter(
        Figure::length(figure_id(["run.", &run.name, ".take_off_to_next"]), gap)
            .formula(format!(
                "distance along the trunk's middle line to the next take-off on the same side nearer its start, run {}",
                before.name
            ))
            .place(station.span, "distance of the take-off along the trunk")
            .place(at.span, format!("take-off of run {}", before.name)),
    );
    ledger.enter(
        Figure::text(figure_id(["run.", &run.name, ".next_take_off"]), before.name.clone())
            .formula("the run whose take-off lies next to this one on the same side, nearer the trunk's start")
            .place(before.span, format!("run {}", before.name)),
    );
}
