//! How far each level leg sags between its supports in the heat around it.

use crate::catalog::{Catalog, PipeMaterial};
use crate::figures::{Figure, Ledger};
use crate::model::{Drain, Model};
use crate::physics::pipe_sag::{Beam, Wall};
use crate::quantity::{Dimension, Length, Slope, Temperature};
use crate::systems::profile::spacing;

use super::space::summer;

const BEAM: &str = "a beam on two supports, half full of water; stiffness by temperature from handbooks (from memory), without creep";

/// The wall of a pipe's material, where its stiffness is held.
pub const fn wall(material: PipeMaterial) -> Option<Wall> {
    Some(match material {
        PipeMaterial::Pvc => Wall::Pvc,
        PipeMaterial::Cpvc => Wall::Cpvc,
        PipeMaterial::Abs => Wall::Abs,
        PipeMaterial::Pex => Wall::Pex,
        PipeMaterial::Pe => Wall::Pe,
        PipeMaterial::CopperL | PipeMaterial::CopperM | PipeMaterial::CopperRefrigerant => {
            Wall::Copper
        }
        PipeMaterial::Galvanized | PipeMaterial::Steel => Wall::Steel,
        PipeMaterial::Vinyl => return None,
    })
}

/// Enters sag, its slope at the supports and the widest spacing of every level leg that spans from support to support.
pub(super) fn enter(model: &Model, catalog: &Catalog, drain: &Drain, ledger: &mut Ledger) {
    let (between, ..) = spacing(drain, catalog);
    let summer_indoor = model.job.condition("summer").and_then(|c| c.indoor);
    for (n, leg) in drain.legs.iter().enumerate() {
        let id = |what: &str| format!("drain.{}.leg-{}-{what}", drain.name, n + 1);
        let pipe = leg.pipe.as_ref().or(drain.pipe.as_ref());
        let found = pipe.and_then(|pipe| catalog.pipes.get(&pipe.value));
        let (Some(sheet), true) = (found, leg.direction.is_level()) else {
            continue;
        };
        let Some(temperature) = summer(model, leg.start) else {
            continue;
        };
        let beam = sheet.material.get().and_then(wall).and_then(|wall| {
            let (outside, inside) = (sheet.outside.get()?, sheet.inside.get()?);
            Beam::of(wall, outside, inside, Temperature::new(temperature))
        });
        let mut warm = Figure::number(id("summer"), temperature, Dimension::Temperature)
            .formula("summer temperature of the space around the leg");
        let story = model.house.story_at(leg.start.z).and_then(|s| s.summer);
        for place in [story, summer_indoor].into_iter().flatten().take(1) {
            warm = warm.place(place.span, "summer");
        }
        ledger.enter(warm);
        let Some(beam) = beam else { continue };
        let span = between.min(leg.length);
        let put = |figure: Figure, words: &str| {
            figure
                .formula(words)
                .source(BEAM)
                .input(id("summer"))
                .place(sheet.span, pipe.map_or("", |pipe| pipe.value.as_str()))
                .place(
                    drain.hangers.map_or(sheet.support.span, |h| h.span),
                    "supports",
                )
        };
        ledger.enter(put(
            Figure::length(id("sag"), beam.sag(span)),
            "how far the pipe hangs through in the middle between two supports",
        ));
        let rise = Length::nearest(beam.end_slope(span) * 12.0);
        if let Some(slope) = Slope::of(rise, Length::FOOT) {
            ledger.enter(put(
                Figure::slope(id("sag-slope"), slope),
                "slope of the sagging pipe at its supports: laid flatter than this it runs uphill before each of them",
            ));
        }
        if let Some(fall) = leg.fall.filter(|fall| fall.value > Length::ZERO) {
            let slope = fall.value.to_inches() / leg.length.to_inches();
            ledger.enter(
                put(
                    Figure::length(
                        id("support-most"),
                        beam.span_for(slope).round_down_to(Length::INCH),
                    ),
                    "widest spacing at which the leg's fall is more than its sag's slope",
                )
                .input(id("slope")),
            );
        }
    }
}
