//! Where water pipes lie: their heights from the coil that they reach, and the spaces that they pass through.

use std::collections::BTreeMap;

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::model::{Model, WaterLoop, WaterPart, WaterPipe};
use crate::quantity::Length;
use crate::systems::comfort::design::Design;
use crate::systems::comfort::space::{Space, at, named};

/// A length of pipe in one space.
#[derive(Clone, Debug)]
pub(super) struct Exposed {
    pub(super) length: Length,
    /// The space; none where nobody says how cold it is, or where the pipe runs.
    pub(super) space: Option<Space>,
}

/// Height of a coil's ports, supply and return, above the lowest floor.
pub(super) fn ports(model: &Model, catalog: &Catalog, coil: &str) -> Option<(Length, Length)> {
    let coil = model.water.coils.get(coil)?;
    let unit = model.air_handlers.get(&coil.unit.value)?;
    let sheet = catalog.water_coils.get(&coil.model.as_ref()?.value)?;
    Some((
        unit.base + sheet.supply.place.get()?.z,
        unit.base + sheet.return_water.place.get()?.z,
    ))
}

/// Height at which each pipe of a loop starts, as far as its legs show it.
pub(super) fn starts(
    model: &Model,
    catalog: &Catalog,
    water: &WaterLoop,
) -> BTreeMap<String, Length> {
    let mut out = BTreeMap::new();
    for way in water.ways() {
        // Forward from each coil, and backward from it.
        for (n, part) in way.iter().enumerate() {
            let WaterPart::Coil { name, backward } = part else {
                continue;
            };
            let Some((supply, back)) = ports(model, catalog, name) else {
                continue;
            };
            let (enters, leaves) = if *backward {
                (back, supply)
            } else {
                (supply, back)
            };
            let mut z = leaves;
            for after in way.iter().skip(n + 1) {
                let WaterPart::Pipe(pipe) = after else { break };
                out.entry(pipe.clone()).or_insert(z);
                let Some(climb) = model.water.pipes.get(pipe).and_then(WaterPipe::climb) else {
                    break;
                };
                z += climb;
            }
            let mut z = enters;
            for before in way.iter().take(n).rev() {
                let WaterPart::Pipe(pipe) = before else { break };
                let Some(climb) = model.water.pipes.get(pipe).and_then(WaterPipe::climb) else {
                    break;
                };
                z -= climb;
                out.entry(pipe.clone()).or_insert(z);
            }
        }
    }
    out
}

/// Enters the height at which a pipe meets its boiler, counted along its legs from the coil.
pub(super) fn at_boiler(
    water: &WaterLoop,
    pipe: &WaterPipe,
    start: Option<Length>,
    ledger: &mut Ledger,
) {
    let (Some(start), Some(climb)) = (start, pipe.climb()) else {
        return;
    };
    let meets = if pipe.from.thing == water.boiler {
        start
    } else if pipe.to.thing == water.boiler {
        start + climb
    } else {
        return;
    };
    let figure = Figure::length(format!("water-pipe.{}.at-boiler", pipe.name), meets)
        .formula("height above the lowest floor at which it meets the boiler: the coil's port and the legs between")
        .source("geometry");
    ledger.enter(
        pipe.legs
            .iter()
            .fold(figure, |figure, leg| figure.place(leg.span, "leg")),
    );
}

/// Lengths of an upright or sloping leg between the floors that it passes.
fn split(model: &Model, (from, to): (Length, Length), length: Length) -> Vec<(Length, Length)> {
    let (low, high) = (from.min(to), from.max(to));
    if low == high {
        return vec![(low, length)];
    }
    let mut cuts: Vec<Length> = model
        .house
        .stories
        .values()
        .map(|story| story.floor)
        .filter(|floor| low < *floor && *floor < high)
        .collect();
    cuts.sort();
    cuts.push(high);
    let whole = (high - low).to_inches();
    let mut out = Vec::new();
    let mut z = low;
    for cut in cuts {
        let share = (cut - z).to_inches() / whole;
        out.push((z, Length::nearest(length.to_inches() * share)));
        z = cut;
    }
    out
}

/// The spaces that a pipe passes through with what lies in each; `start` is the height of its start where known.
pub(super) fn exposed(
    model: &Model,
    pipe: &WaterPipe,
    start: Option<Length>,
    design: &Design,
) -> Vec<Exposed> {
    let Some(length) = pipe.length() else {
        return Vec::new();
    };
    let mut out: Vec<Exposed> = Vec::new();
    let mut add = |space: Option<Space>, length: Length| {
        let same = out.iter_mut().find(|other| {
            other.space.as_ref().map(|s| (&s.story, s.span))
                == space.as_ref().map(|s| (&s.story, s.span))
        });
        match same {
            Some(same) => same.length += length,
            None => out.push(Exposed { length, space }),
        }
    };
    if let (Some(start), false) = (start, pipe.legs.is_empty()) {
        let drawn: Length = pipe.legs.iter().map(|leg| leg.length).sum();
        let longer = length.to_inches() / drawn.to_inches().max(1e-9);
        let mut z = start;
        for leg in &pipe.legs {
            for (low, piece) in split(model, (z, z + leg.climb), leg.length) {
                let piece = Length::nearest(piece.to_inches() * longer);
                add(at(model, low, design).ok(), piece);
            }
            z += leg.climb;
        }
        for space in &pipe.through {
            // A space that is named counts, however short the way through it.
            if let Ok(space) = named(model, &space.value, design) {
                add(Some(space), Length::ZERO);
            }
        }
        return out;
    }
    let spaces: Vec<Option<Space>> = pipe
        .through
        .iter()
        .map(|space| named(model, &space.value, design).ok())
        .collect();
    if spaces.is_empty() {
        add(None, length);
        return out;
    }
    let each = Length::nearest(length.to_inches() / spaces.len() as f64);
    for space in spaces {
        add(space, each);
    }
    out
}
