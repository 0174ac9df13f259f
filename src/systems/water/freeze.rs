//! How cold it gets around a coil and its pipes, and at what its water freezes.

use crate::figures::{Figure, Ledger};
use crate::model::{Model, WaterCoil};
use crate::physics::fluid::Fluid;
use crate::quantity::{Dimension, Temperature};
use crate::source::Span;
use crate::systems::comfort::design::{Design, Season};
use crate::systems::comfort::space::named;

use super::flow::Found;
use super::stated::fluid;

const SOURCE: &str = "Melinder, Properties of Secondary Working Fluids for Indirect Systems (2010)";

/// Coldest space of the coil's unit and of the pipes of its loop.
fn coldest(model: &Model, coil: &WaterCoil, loops: &[Found<'_>]) -> Option<(f64, Span, String)> {
    let design = Design::of(model, Season::Winter).ok()?;
    let unit = model.air_handlers.get(&coil.unit.value);
    let own = unit.and_then(|unit| named(model, &unit.story, &design).ok());
    let pipes = loops
        .iter()
        .filter(|found| found.water.coils().contains(&coil.name.as_str()))
        .flat_map(|found| found.laid.values().flatten())
        .flat_map(|laid| laid.exposed.iter().filter_map(|part| part.space.clone()));
    own.into_iter()
        .chain(pipes)
        .min_by(|a, b| a.temperature.total_cmp(&b.temperature))
        .map(|space| (space.temperature, space.span, space.words))
}

/// Enters both, and the glycol that would keep it liquid there.
pub(super) fn enter(model: &Model, coil: &WaterCoil, loops: &[Found<'_>], ledger: &mut Ledger) {
    let id = |what: &str| format!("water-coil.{}.{what}", coil.name);
    if let Some((least, span, words)) = coldest(model, coil, loops) {
        ledger.enter(
            Figure::number(id("coldest-space"), least, Dimension::Temperature)
                .formula("coldest space in winter that the coil or its pipes lie in")
                .place(span, words),
        );
        if let Some(share) = Fluid::share_for(Temperature::new(least)) {
            ledger.enter(
                Figure::number(id("glycol-least"), share.value(), Dimension::Ratio)
                    .formula("propylene glycol by mass with which the water stays liquid there")
                    .source(SOURCE)
                    .input(id("coldest-space")),
            );
        }
    }
    let said_unknown = coil.glycol_said && coil.glycol.is_none();
    if let (Ok(fluid), false) = (fluid(coil.glycol), said_unknown) {
        let span = coil.glycol.map_or(coil.span, |glycol| glycol.span);
        ledger.enter(
            Figure::number(
                id("freezing-point"),
                fluid.freezes().value(),
                Dimension::Temperature,
            )
            .formula("temperature at which its water begins to freeze")
            .source(SOURCE)
            .place(span, "the water in the coil"),
        );
    }
}
