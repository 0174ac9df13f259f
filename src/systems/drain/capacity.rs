//! What each level leg carries at its slope, how deep the peak runs in it, and the water that is on its way.

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::model::{Drain, DrainLeg, Model};
use crate::physics::open_channel::{SMOOTH_PIPE, capacity, depth, section};
use crate::quantity::{Dimension, Length, WaterFlow};

use super::moisture::{GALLON, units};

const MANNING: &str = "Manning's formula with n = 0.010 (handbooks, from memory)";

/// What a wet coil gives up after the blower has stopped, gal a ton: about half a pound, from memory.
const COIL_FILM: f64 = 0.06;

/// The inside diameter of a leg's pipe.
fn bore(catalog: &Catalog, drain: &Drain, leg: &DrainLeg) -> Option<Length> {
    let pipe = leg.pipe.as_ref().or(drain.pipe.as_ref())?;
    catalog.pipes.get(&pipe.value)?.inside.get()
}

/// Enters capacity and depth of every level leg, and the run-off where it ends in a pump.
pub(super) fn enter(model: &Model, catalog: &Catalog, drain: &Drain, ledger: &mut Ledger) {
    let id = |what: &str| format!("drain.{}.{what}", drain.name);
    let peak = ledger.real(&id("flow-wettest"));
    let gpm = peak.map(|pounds| WaterFlow::new(pounds / GALLON / 60.0));
    let mut on_its_way = 0.0;
    for (n, leg) in drain.legs.iter().enumerate() {
        let leg_id = |what: &str| id(&format!("leg-{}-{what}", n + 1));
        let (Some(bore), Some(fall), true) = (
            bore(catalog, drain, leg),
            leg.fall,
            leg.direction.is_level(),
        ) else {
            continue;
        };
        if fall.value <= Length::ZERO {
            continue;
        }
        let slope = fall.value.to_inches() / leg.length.to_inches();
        ledger.enter(
            Figure::number(
                leg_id("capacity"),
                capacity(bore, slope, SMOOTH_PIPE, 0.5).value(),
                Dimension::WaterFlow,
            )
            .formula("what the leg carries half full at its slope")
            .source(MANNING)
            .input(leg_id("slope"))
            .place(leg.span, "leg"),
        );
        let Some(fill) = gpm.and_then(|gpm| depth(bore, slope, SMOOTH_PIPE, gpm)) else {
            continue;
        };
        on_its_way += section(bore, fill).area * leg.length.to_feet() * 1728.0 / 231.0;
        ledger.enter(
            Figure::length(leg_id("depth"), Length::nearest(bore.to_inches() * fill))
                .formula("depth at which the leg carries the wettest hour at its slope")
                .source(MANNING)
                .input(leg_id("slope"))
                .input(id("flow-wettest")),
        );
    }
    let pumped = drain
        .ending
        .as_ref()
        .is_some_and(|ending| model.pumps.contains_key(&ending.to.value));
    if !pumped {
        return;
    }
    let tons: f64 = units(model, drain)
        .iter()
        .filter_map(|unit| unit.sheet.tons())
        .sum();
    let figure = match gpm {
        Some(_) => Figure::number(
            id("run-off"),
            on_its_way + COIL_FILM * tons,
            Dimension::Volume,
        ),
        None => Figure::unknown(id("run-off"), "the water that comes is not known"),
    };
    ledger.enter(
        figure
        .formula("water on its way in the level legs at the wettest hour + what the wet coil still gives up, 0.06 gal a ton")
        .source("geometry; the coil's share from memory")
        .input(id("flow-wettest"))
        .input(id("nominal")),
    );
}
