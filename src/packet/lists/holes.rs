//! `holes.csv`: every hole in a trunk, by its distance from the unit.

use crate::packet::pages::{PageSource, figure_or_empty, runs_of};
use crate::packet::set::{HOLES, List};
use crate::packet::text::Text;

/// Every hole, trunk by trunk, in the order of the tape.
pub(super) fn holes(source: &PageSource<'_>) -> List {
    let mut list = List::new(&HOLES);
    for trunk in source.model.trunks.values() {
        for run in runs_of(source, trunk) {
            let Some(station) = run.station else { continue };
            let piece = trunk
                .legs
                .iter()
                .position(|leg| {
                    leg.station <= station.value && station.value <= leg.station + leg.length
                })
                .map_or_else(Text::empty, |n| {
                    Text::tag(&format!("{}-{}", trunk.name, n + 1))
                });
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
