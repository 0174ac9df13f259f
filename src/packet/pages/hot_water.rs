//! Hot water: pipes, coil, boiler and circulator as written, and the steps with their cautions.

use super::as_written::{of_kinds, table};
use super::source::PageSource;
use crate::packet::page::{Block, Caution, Hazard, Page, Tick, Trade};
use crate::packet::text::say;

/// The page on hot water; none when the job has none.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let kinds = [
        "water-coil",
        "water-pipe",
        "circulator",
        "boiler",
        "chiller",
    ];
    let parts = of_kinds(source, &kinds);
    if parts.is_empty() {
        return;
    }
    let mut page = Page::new("hot-water", say("water.title")).trades(&[Trade::Plumber]);
    page.put(table(source, &parts));
    page.put(Block::heading(say("feed.steps")));
    page.put(Block::Ticks(vec![
        Tick::new(say("water.step-supply"))
            .caution(Caution::new(Hazard::Freezing, say("water.caution-cold"))),
        Tick::new(say("water.step-join"))
            .caution(Caution::new(Hazard::Fire, say("water.caution-torch"))),
        Tick::new(say("water.step-test"))
            .caution(Caution::new(Hazard::Water, say("water.caution-test"))),
        Tick::new(say("water.step-bleed")),
        Tick::new(say("water.step-relay")),
        Tick::new(say("water.step-hot"))
            .caution(Caution::new(Hazard::Fire, say("water.caution-hot"))),
        Tick::new(say("water.step-insulate")),
    ]));
    pages.push(page);
}
