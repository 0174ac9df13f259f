//! How far the nearest thing stands from each side of a cabinet.

use crate::figures::{Figure, Ledger};
use crate::model::{AirHandler, Direction, Extent};

use super::standing::Standing;

/// The sides of a cabinet and where they look in the house.
fn sides(front: Direction) -> [(&'static str, Direction); 6] {
    [
        ("front", front),
        ("back", front.opposite()),
        ("left", front.left()),
        ("right", front.left().opposite()),
        ("top", Direction::Up),
        ("bottom", Direction::Down),
    ]
}

/// Enters the distance on each side where something stands; what stands in a service space is counted there.
pub(super) fn enter(
    unit: &AirHandler,
    cabinet: Extent,
    things: &[Standing<'_>],
    ledger: &mut Ledger,
) {
    for (side, toward) in sides(unit.discharge) {
        let nearest = things
            .iter()
            .filter(|thing| !thing.carries)
            .filter_map(|thing| Some((thing.gap_from(&cabinet, toward)?, thing)))
            .min_by_key(|(gap, _)| *gap);
        let Some((gap, thing)) = nearest else {
            continue;
        };
        ledger.enter(
            Figure::length(format!("unit.{}.clear_{side}", unit.name), gap)
                .formula(format!(
                    "distance from the {side} of the cabinet to the nearest thing {}; \
                     what stands in a service space is counted there",
                    match toward {
                        Direction::Up => "above it",
                        Direction::Down => "below it",
                        level => level.word(),
                    }
                ))
                .place(thing.span, thing.words.clone())
                .place(unit.span, format!("air handler {}", unit.name)),
        );
    }
}
