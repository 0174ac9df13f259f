//! Whether the largest piece of a unit passes the openings and ways that lead to it.

use crate::figures::{Figure, Ledger};
use crate::model::{AirHandler, Hatch, Model};
use crate::physics::passage::{passes, smallest_face, spare};
use crate::quantity::{Length, trade_length};
use crate::source::Spanned;

/// Enters for each opening and way: whether the piece passes, and how much is to spare when it is held straight.
pub(super) fn enter(model: &Model, ledger: &mut Ledger) {
    for hatch in model.house.hatches.values() {
        for unit in served(model, hatch) {
            let id = format!("attic-access.{}", hatch.name);
            enter_one(&id, hatch.clear, unit, ledger);
        }
    }
    for path in &model.house.paths {
        if let Some(unit) = model.air_handlers.get(&path.to.value) {
            let id = format!("access-path.{}", path.name);
            enter_one(&id, path.clear, unit, ledger);
        }
    }
}

/// The units that an opening leads to: those its ways name, else those of its story.
fn served<'m>(model: &'m Model, hatch: &Hatch) -> Vec<&'m AirHandler> {
    let ways = || {
        let paths = model.house.paths.iter();
        paths.filter(|path| path.from.value == hatch.name)
    };
    let units = model.air_handlers.values();
    units
        .filter(|unit| {
            if ways().next().is_none() {
                unit.story == hatch.story
            } else {
                ways().any(|way| way.to.value == unit.name)
            }
        })
        .collect()
}

fn enter_one(
    id: &str,
    clear: (Spanned<Length>, Spanned<Length>),
    unit: &AirHandler,
    ledger: &mut Ledger,
) {
    let piece = &unit.sheet.largest_piece;
    let Some(size) = piece.size.get() else { return };
    let face = smallest_face([size.length, size.width, size.height]);
    let opening = (clear.0.value, clear.1.value);
    let what = piece
        .what
        .get()
        .unwrap_or_else(|| "largest piece".to_owned());
    let words = format!(
        "{what} of {} x {} x {}",
        trade_length(size.length),
        trade_length(size.width),
        trade_length(size.height)
    );
    let at = clear.0.span.to(clear.1.span);
    ledger.enter(
        Figure::length(format!("{id}.spare.{}", unit.name), spare(face, opening))
            .formula(
                "how much larger the opening is than the two smaller sides of the largest piece, held straight, \
                 in the tighter direction; below zero it is smaller",
            )
            .place(at, "clear opening")
            .place(piece.size.span, words.clone()),
    );
    ledger.enter(
        Figure::bool(format!("{id}.passes.{}", unit.name), passes(face, opening))
            .formula(
                "whether the two smaller sides of the largest piece go through the opening, turned any way in its plane",
            )
            .source("geometry: a rectangle in a rectangle")
            .place(at, "clear opening")
            .place(piece.size.span, words),
    );
}
