//! Trunks: their length, and how much of the first pieces at the unit comes off without cutting.

use crate::figures::{Figure, Ledger, figure_id};
use crate::model::{Model, Trunk};
use crate::quantity::Length;

/// Enters the figures of trunks and branches.
pub(super) fn enter(model: &Model, ledger: &mut Ledger) {
    for trunk in model.trunks.values().filter(|trunk| !trunk.flawed) {
        let mut figure = Figure::length(
            figure_id(["trunk.", &trunk.name, ".length"]),
            trunk.length(),
        )
        .formula("sum of its legs along the middle line");
        for leg in &trunk.legs {
            figure = figure.place(leg.span, leg_words(leg.direction.word(), leg.length));
        }
        ledger.enter(figure);
        if trunk.parent.is_none() {
            ledger.enter(removable(trunk));
        }
    }
}

fn leg_words(direction: &str, length: Length) -> String {
    format!("{direction} {}", crate::quantity::trade_length(length))
}

fn removable(trunk: &Trunk) -> Figure {
    let first = || trunk.legs.iter().take_while(|leg| leg.removable);
    let mut figure = Figure::length(
        figure_id(["trunk.", &trunk.name, ".first_removable"]),
        first().map(|leg| leg.length).sum(),
    )
    .formula("length of the legs next to the unit that are removable, up to the first that is not");
    for leg in first() {
        figure = figure.place(leg.span, leg_words(leg.direction.word(), leg.length));
    }
    if first().next().is_none() {
        let span = trunk.legs.first().map_or(trunk.span, |leg| leg.span);
        figure = figure.place(span, "the first leg is not removable");
    }
    figure
}
