//! `outlets.csv`: every outlet with its run.

use crate::packet::pages::{PageSource, figure_or_empty, run_to, surface};
use crate::packet::set::{List, OUTLETS};
use crate::packet::text::Text;

/// Every outlet, room by room.
pub(super) fn outlets(source: &PageSource<'_>) -> List {
    let mut list = List::new(&OUTLETS);
    for room in source.model.house.rooms.values() {
        for outlet in &room.outlets {
            let place = |quantity: &str| {
                figure_or_empty(source, &format!("outlet.{}.{quantity}", outlet.name))
            };
            let run = run_to(source, outlet);
            let of_run = |quantity: &str| {
                run.map_or_else(Text::empty, |run| {
                    figure_or_empty(source, &format!("run.{}.{quantity}", run.name))
                })
            };
            list.row([
                Text::tag(&outlet.name),
                Text::tag(&room.name),
                Text::tag(&room.story.value),
                surface(outlet).into(),
                place("from_west"),
                place("from_south"),
                run.map_or_else(Text::empty, |run| Text::tag(&run.trunk.value)),
                of_run("station"),
                run.and_then(|run| run.side.as_ref())
                    .map_or_else(Text::empty, |side| Text::quote(source.files, side.span)),
                of_run("length"),
                of_run("bends"),
                of_run("airflow"),
            ]);
        }
    }
    list
}
