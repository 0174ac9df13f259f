//! Tags to cut out, one row a run: what to write on each tube before it goes up.

use super::PageSource;
use super::schedule::figure_or_empty;
use crate::model::{Run, Trunk};
use crate::packet::page::{Block, Column, Page, Table, Trade};
use crate::packet::text::{Text, say};

/// The runs of a trunk in the order of their take-offs.
pub(in crate::packet) fn runs_of<'m>(source: &PageSource<'m>, trunk: &Trunk) -> Vec<&'m Run> {
    let mut runs: Vec<&Run> = source
        .model
        .runs
        .values()
        .filter(|run| run.trunk.value == trunk.name)
        .collect();
    runs.sort_by(|a, b| {
        let station = |run: &Run| run.station.as_ref().map(|station| station.value);
        station(a)
            .cmp(&station(b))
            .then_with(|| a.name.cmp(&b.name))
    });
    runs
}

/// The outlet and room that a run feeds.
pub(in crate::packet) fn room_of(source: &PageSource<'_>, run: &Run) -> Text {
    let outlet = run
        .outlet
        .as_ref()
        .and_then(|name| source.model.house.outlet(name));
    outlet.map_or_else(Text::empty, |outlet| Text::tag(&outlet.room))
}

fn row(source: &PageSource<'_>, run: &Run) -> Vec<Text> {
    let figure = |quantity: &str| figure_or_empty(source, &format!("run.{}.{quantity}", run.name));
    let outlet = run
        .outlet
        .as_ref()
        .map_or_else(Text::empty, |name| Text::tag(name));
    let from = say("tags.from-at")
        .with("trunk", Text::tag(&run.trunk.value))
        .with("station", figure("station"));
    let side = run
        .side
        .as_ref()
        .map_or_else(Text::empty, |side| Text::quote(source.files, side.span));
    vec![
        Text::tag(&run.name),
        Text::listed([outlet, room_of(source, run)]),
        figure("length"),
        figure("bends"),
        from.into(),
        side,
    ]
}

/// One page for all runs.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    if source.model.runs.is_empty() {
        return;
    }
    let mut page = Page::new("run-tags", say("tags.title")).trades(&[Trade::SheetMetal]);
    page.put(Block::paragraph(say("tags.how")));
    let mut table = Table::new(vec![
        Column::left(say("tags.run")),
        Column::left(say("tags.to")).wide(),
        Column::right(say("tags.length")),
        Column::right(say("tags.bends")),
        Column::left(say("tags.from")),
        Column::left(say("tags.side")),
    ]);
    let mut tubes: Vec<&crate::source::Spanned<String>> = Vec::new();
    for trunk in source.model.trunks.values() {
        for run in runs_of(source, trunk) {
            page.rests_on(source.files, run.whole);
            table.row(row(source, run));
            if let Some(tube) = &run.tube
                && !tubes.iter().any(|known| known.value == tube.value)
            {
                tubes.push(tube);
            }
        }
    }
    page.put(Block::Table(table));
    let tubes: Vec<Text> = tubes
        .iter()
        .map(|tube| Text::quote(source.files, tube.span))
        .collect();
    if !tubes.is_empty() {
        page.put(Block::paragraph(
            say("tags.tube").with("tubes", Text::listed(tubes)),
        ));
    }
    pages.push(page);
}
