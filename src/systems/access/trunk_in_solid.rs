//! Legs of trunk that reach into a chimney, an obstacle, equipment or the roof, or out through a gable.

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::model::{Extent, Model, Roof};
use crate::quantity::Length;

use super::pipe_in_space::leg_box;
use super::standing::{Shape, Standing, ends, rises_north_south, standing_on};

/// How far a box reaches past the ends of the roof over it: past the gable. None where the roof's ends are not all
/// across one way, or the box stays below the eaves.
fn past_gable<'m>(roofs: &[&'m Roof], extent: &Extent) -> Option<(Length, &'m Roof)> {
    let first = roofs.first()?;
    let across = rises_north_south(first);
    if roofs.iter().any(|roof| rises_north_south(roof) != across) {
        return None;
    }
    let low = roofs.iter().map(|roof| ends(roof).0).min()?;
    let high = roofs.iter().map(|roof| ends(roof).1).max()?;
    let eaves = roofs.iter().map(|roof| roof.edge.z).min()?;
    let (from, to) = if across {
        (extent.low.x, extent.high.x)
    } else {
        (extent.low.y, extent.high.y)
    };
    let out = (low - from).max(to - high);
    (extent.high.z > eaves && out > Length::ZERO).then_some((out, *first))
}

/// Whether a leg of trunk may go through it: a wall has a hole cut, a floor or ceiling as well.
fn is_gone_through(thing: &Standing<'_>) -> bool {
    matches!(thing.shape, Shape::Ceiling(_) | Shape::Floor(_)) || thing.id.starts_with("wall-")
}

/// Enters how deep each leg of trunk lies in what it can't go through, by its pipe without insulation.
pub(super) fn enter(model: &Model, catalog: &Catalog, ledger: &mut Ledger) {
    for trunk in model.trunks.values().filter(|trunk| !trunk.misplaced) {
        let Some(unit) = model
            .unit_of(&trunk.name)
            .filter(|unit| unit.cabinet.is_some())
        else {
            continue;
        };
        let things = standing_on(model, catalog, &unit.story, Some(&unit.name));
        let roofs: Vec<&Roof> = model
            .house
            .roofs
            .iter()
            .filter(|roof| roof.story == unit.story)
            .collect();
        for (n, leg) in trunk.legs.iter().enumerate() {
            let Some(own) = leg_box(leg, catalog) else {
                continue;
            };
            let id = format!("trunk.{}.leg-{}.in", trunk.name, n + 1);
            for thing in things.iter().filter(|thing| !is_gone_through(thing)) {
                if let Some(depth) = thing.depth_in(&own) {
                    ledger.enter(
                        Figure::length(format!("{id}.{}", thing.id), depth.depth)
                            .formula("how deep the pipe of this leg lies in it: the least overlap")
                            .place(leg.span, format!("trunk {}", trunk.name))
                            .place(thing.span, thing.words.clone()),
                    );
                }
            }
            if let Some((out, roof)) = past_gable(&roofs, &own) {
                ledger.enter(
                    Figure::length(format!("{id}.gable"), out)
                        .formula("how far this leg reaches past the end of the roof over it")
                        .place(leg.span, format!("trunk {}", trunk.name))
                        .place(roof.span, "the end of the roof"),
                );
            }
        }
    }
}
