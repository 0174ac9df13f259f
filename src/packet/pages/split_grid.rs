//! What the coil takes off the air's temperature on the day of the visit, over outdoors and returning air.

use super::source::PageSource;
use crate::packet::page::{Block, Column, Page, Table, Trade};
use crate::packet::text::{Phrase, Text, say};

/// Columns that an upright page holds beside the first.
const MOST: usize = 9;

/// The ids of an axis, in order.
fn axis(source: &PageSource<'_>, unit: &str, word: &str) -> Vec<String> {
    (1..=200)
        .map(|n| format!("coil.{unit}.split-{word}-{n}"))
        .take_while(|id| source.figure(id).is_some())
        .collect()
}

fn at_wet_bulb(source: &PageSource<'_>, id: &str) -> Phrase {
    say("split.at").with("temperature", source.of(id))
}

/// One page a unit whose grid is computed.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    for unit in source.model.air_handlers.values() {
        let outdoors = axis(source, &unit.name, "outdoor");
        let wet_bulbs = axis(source, &unit.name, "wet-bulb");
        if outdoors.is_empty() || wet_bulbs.is_empty() {
            continue;
        }
        let title = say("split.title").with("unit", Text::tag(&unit.name));
        let mut page = Page::new(format!("start-up-split-{}", unit.name), title)
            .trades(&[Trade::ServiceTech, Trade::Lead]);
        page.rests_on(source.files, unit.whole);
        page.put(Block::paragraph(say("split.how")));
        let numbered: Vec<(usize, &String)> = (1..).zip(&wet_bulbs).collect();
        let mut ids = Vec::new();
        for part in numbered.chunks(MOST) {
            let first = Column::left(say("split.outdoors")).wide();
            let heads = part
                .iter()
                .map(|(_, id)| Column::right(at_wet_bulb(source, id)));
            let mut table = Table::new(std::iter::once(first).chain(heads).collect());
            for (i, outdoor) in (1..).zip(&outdoors) {
                let mut cells = vec![source.of(outdoor)];
                for (j, _) in part {
                    let id = format!("coil.{}.split-{i}-{j}", unit.name);
                    cells.push(source.of_or_mark(&id));
                    ids.push(id);
                }
                table.row(cells);
            }
            page.put(Block::Table(table));
        }
        for reason in source.why_not(ids) {
            page.put(Block::note(reason));
        }
        page.put(Block::note(say("split.note")));
        pages.push(page);
    }
}
