//! Vents and cleanouts: how high they end, and the length behind the trap.

use crate::figures::{Figure, Ledger};
use crate::model::{Drain, Mark, Model};
use crate::quantity::Length;

/// How far above the pan's outlet a switch trips where the unit has no secondary port (common practice).
const TRIPS: Length = Length::INCH;

/// Enters the length behind the trap, the least height of a vent and the height of the lowest cleanout.
pub(super) fn enter(model: &Model, drain: &Drain, ledger: &mut Ledger) {
    let id = |what: &str| format!("drain.{}.{what}", drain.name);
    if let Some((trap, ..)) = drain.traps().next() {
        let behind = drain.legs.iter().skip(trap.after_legs);
        ledger.enter(
            Figure::length(id("length-behind-trap"), behind.map(|leg| leg.length).sum())
                .formula("sum of the legs behind the first trap")
                .place(trap.span, "trap"),
        );
    }
    let unit = model.air_handlers.get(&drain.unit);
    if let Some(unit) = unit.filter(|_| !drain.is_second_line()) {
        let figure = match unit.port("secondary-drain") {
            Some(port) => Figure::length(id("vent-needed"), port.point.z)
                .formula("height of the secondary port above the lowest floor: there a stopped drain shows itself")
                .place(port.span, "secondary port"),
            None => Figure::length(id("vent-needed"), drain.start.z + TRIPS)
                .formula("height of the pan's outlet above the lowest floor + 1 in: there a switch trips")
                .source("common practice")
                .place(drain.port.span, drain.port.value.clone()),
        };
        ledger.enter(figure);
    }
    let lowest = drain
        .happenings
        .iter()
        .filter(|happening| matches!(happening.mark, Mark::Cleanout { .. }))
        .filter_map(|happening| {
            let story = model.house.story_at(happening.point.z)?;
            Some((happening.point.z - story.floor, happening.span))
        })
        .min();
    if let Some((height, span)) = lowest {
        ledger.enter(
            Figure::length(id("cleanout-height"), height)
                .formula("height of the lowest cleanout above the floor of its story")
                .place(span, "cleanout"),
        );
    }
}
