//! The room table: what each room needs and gets, and the temperature at which it settles in both seasons.

use super::source::PageSource;
use crate::packet::page::{Block, Column, Fact, Page, Table, Trade};
use crate::packet::text::{Text, say};

fn row(source: &PageSource<'_>, room: &str) -> Vec<Text> {
    let of = |what: &str| source.of_or_mark(&format!("room.{room}.{what}"));
    vec![
        Text::tag(room),
        of("airflow-needed"),
        of("airflow"),
        of("share"),
        of("temperature"),
        of("temperature@winter"),
    ]
}

/// What the loads' own uncertainty may do to the spread, as far as it is computed.
fn uncertain(source: &PageSource<'_>) -> Vec<Block> {
    let of_spread = |id: &str| id.starts_with("house.spread-");
    source
        .ledger
        .iter()
        .filter(|figure| of_spread(&figure.id) && figure.real().is_some())
        .map(|figure| {
            let words = if figure.id.ends_with("@winter") {
                say("room-air.uncertain-winter")
            } else {
                say("room-air.uncertain-summer")
            };
            Block::note(
                words
                    .with("spread", Text::figure(figure))
                    .with("how", Text::formula(figure)),
            )
        })
        .collect()
}

/// One page for the house; none while nothing of it is computed.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let mut table = Table::new(vec![
        Column::left(say("rooms.room")).wide(),
        Column::right(say("room-air.needed")),
        Column::right(say("room-air.delivered")),
        Column::right(say("room-air.share")),
        Column::right(say("room-air.summer")),
        Column::right(say("room-air.winter")),
    ]);
    let mut page =
        Page::new("room-air", say("room-air.title")).trades(&[Trade::Lead, Trade::ServiceTech]);
    let mut ids = Vec::new();
    for room in source.model.house.rooms.values() {
        if room.unconditioned {
            continue;
        }
        if let Some(by) = &room.served_by {
            let words = say("rooms.served-by").with("room", Text::tag(&by.value));
            table.row([Text::tag(&room.name), words.into()]);
            continue;
        }
        for what in [
            "airflow-needed",
            "airflow",
            "temperature",
            "temperature@winter",
        ] {
            ids.push(format!("room.{}.{what}", room.name));
        }
        page.rests_on(source.files, room.span);
        table.row(row(source, &room.name));
    }
    if !ids.iter().any(|id| source.figure(id).is_some()) {
        return;
    }
    let mut facts = Vec::new();
    for (suffix, spread, warmest, coldest) in [
        (
            "",
            say("room-air.spread-summer"),
            say("room-air.warmest-summer"),
            say("room-air.coldest-summer"),
        ),
        (
            "@winter",
            say("room-air.spread-winter"),
            say("room-air.warmest-winter"),
            say("room-air.coldest-winter"),
        ),
    ] {
        let of = |what: &str| source.figure(&format!("house.{what}{suffix}"));
        facts.extend(source.big_fact(spread, &format!("house.spread{suffix}")));
        for (name, what) in [(warmest, "warmest-room"), (coldest, "coldest-room")] {
            if let Some(figure) = of(what) {
                facts.push(Fact::new(name, Text::figure(figure)));
            }
        }
    }
    if !facts.is_empty() {
        page.put(Block::Facts(facts));
    }
    page.put(Block::Table(table));
    ids.extend(["house.spread".to_owned(), "house.spread@winter".to_owned()]);
    for reason in source.why_not(ids) {
        page.put(Block::note(reason));
    }
    for block in uncertain(source) {
        page.put(block);
    }
    page.put(Block::note(say("room-air.note")));
    pages.push(page);
}
