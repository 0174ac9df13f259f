//! `holes.csv`: every hole in a trunk, by its distance from the unit.

use crate::material::HoleKind;
use crate::packet::pages::{PageSource, figure_or_empty, runs_of};
use crate::packet::set::{HOLES, List};
use crate::packet::text::Text;

/// Every hole, trunk by trunk, in the order of the tape.
pub(super) fn holes(source: &PageSource<'_>) -> List {
    let mut list = List::new(&HOLES);
    for trunk in source.model.trunks.values() {
        for run in runs_of(source, trunk) {
            if run.station.is_none() {
                continue;
            }
            let piece = source
                .material
                .holes
                .iter()
                .find(|hole| hole.kind == HoleKind::TakeOff(run.name.clone()))
                .and_then(|hole| hole.piece.as_deref())
                .map_or_else(Text::empty, Text::tag);
            let figure =
                |quantity: &str| figure_or_empty(source, &format!("run.{}.{quantity}", run.name));
            list.row([
                Text::tag(&run.name),
                Text::tag(&trunk.name),
                piece,
                figure("station"),
                figure("hole"),
                run.side
                    .as_ref()
                    .map_or_else(Text::empty, |side| Text::quote(source.files, side.span)),
            ]);
        }
    }
    list
}
