//! What stands in a unit's cabinet and in its service spaces, and how deep.

use crate::catalog::Catalog;
use crate::figures::{Figure, FigureValue, Ledger};
use crate::model::{AirHandler, Extent, Model, PlacedSpace};
use crate::quantity::{Length, trade_length};
use crate::source::Span;

use super::pipe_in_space::{drains, trunks};
use super::standing::{Intrusion, Standing};

/// Enters the depths, and gives back what stands clear of the cabinet and its spaces.
pub(super) fn enter<'m>(
    model: &Model,
    catalog: &Catalog,
    unit: &AirHandler,
    cabinet: Extent,
    things: Vec<Standing<'m>>,
    ledger: &mut Ledger,
) -> Vec<Standing<'m>> {
    let mut apart = Vec::new();
    for thing in things {
        match thing.depth_in(&cabinet) {
            Some(depth) => {
                let id = format!("unit.{}.cabinet.{}", unit.name, thing.id);
                deep(
                    id,
                    &thing,
                    depth,
                    (unit.span, "the cabinet"),
                    &way(model, unit, cabinet, depth),
                    ledger,
                );
            }
            None => apart.push((thing, true)),
        }
    }
    for (n, space) in unit.spaces.iter().enumerate() {
        let id = format!("unit.{}.space{}", unit.name, n + 1);
        let before = ledger.len();
        for (thing, free) in &mut apart {
            if let Some(depth) = thing.depth_in(&space.extent) {
                *free = false;
                let id = format!("{id}.{}", thing.id);
                let way = way(model, unit, cabinet, depth);
                deep(id, thing, depth, (space.span, &space.reason), &way, ledger);
            }
        }
        trunks(model, catalog, unit, space, &id, ledger);
        drains(model, unit, space, &id, ledger);
        deepest(&id, space, before, ledger);
    }
    let free = apart.into_iter().filter(|(_, free)| *free);
    free.map(|(thing, _)| thing).collect()
}

/// The move of the unit that clears it, with the words to write.
fn way(model: &Model, unit: &AirHandler, cabinet: Extent, depth: Intrusion) -> String {
    let far = depth.far.round_up_to(Length::sixteenths(1));
    let there = cabinet.center().toward(depth.out, far);
    let write = if depth.out.is_level() {
        format!(
            "center {}, {}",
            trade_length(there.x),
            trade_length(there.y)
        )
    } else {
        let floor = model
            .house
            .stories
            .get(&unit.story)
            .map_or(Length::ZERO, |story| story.floor);
        let (.., tall) = cabinet.size();
        format!("stand {}", trade_length(there.z - tall.half() - floor))
    };
    format!(
        "{} {} or more (`{write}`)",
        trade_length(far),
        depth.out.word()
    )
}

fn deep(
    id: String,
    thing: &Standing<'_>,
    depth: Intrusion,
    (place, reason): (Span, &str),
    way: &str,
    ledger: &mut Ledger,
) {
    ledger.enter(
        Figure::length(id.clone(), depth.depth)
            .formula(format!(
                "how deep {} stands in it: the least overlap",
                thing.words
            ))
            .place(thing.span, thing.words.clone())
            .place(place, reason.to_owned()),
    );
    ledger.enter(
        Figure::text(format!("{id}.way_out"), way)
            .formula("the shortest move of the unit that clears it")
            .input(id),
    );
}

/// The deepest of the figures entered since `before`.
fn deepest(id: &str, space: &PlacedSpace, before: usize, ledger: &mut Ledger) {
    let depths: Vec<(String, Length)> = ledger
        .iter()
        .skip(before)
        .filter_map(|one| match one.value {
            FigureValue::Length(depth) => Some((one.id.clone(), depth)),
            _ => None,
        })
        .collect();
    let most = depths.iter().map(|(_, depth)| *depth).max();
    let figure = Figure::length(format!("{id}.intrusion"), most.unwrap_or(Length::ZERO))
        .formula("how deep anything stands in this service space, the deepest of all; 0 when it is clear")
        .place(space.span, space.reason.clone());
    let with = depths
        .into_iter()
        .fold(figure, |figure, (id, _)| figure.input(id));
    ledger.enter(with);
}
