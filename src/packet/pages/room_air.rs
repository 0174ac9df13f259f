//! The room table: what each room needs and gets, and the temperature at which it settles in both seasons.

use super::source::PageSource;
use crate::model::Condition;
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
    let of_spread = |id: &str| {
        let (what, at) = id.split_once('@').unwrap_or((id, ""));
        what.starts_with("house.spread-") && matches!(at, "" | "winter")
    };
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

/// The temperatures at which the rooms settle at the further conditions that the job names.
fn further(source: &PageSource<'_>) -> Vec<Block> {
    let known = |name: &str| {
        let id = format!("house.spread@{name}");
        source
            .figure(&id)
            .is_some_and(|spread| spread.real().is_some())
    };
    let conditions: Vec<&Condition> = source
        .model
        .job
        .conditions
        .iter()
        .filter(|one| one.name != "winter" && known(&one.name))
        .collect();
    if conditions.is_empty() {
        return Vec::new();
    }
    let mut columns = vec![Column::left(say("rooms.room")).wide()];
    columns.extend(
        conditions
            .iter()
            .map(|one| Column::right(Text::tag(&one.name))),
    );
    let mut table = Table::new(columns);
    let mut put = |name: Text, id: &dyn Fn(&str) -> String| {
        let mut row = vec![name];
        row.extend(
            conditions
                .iter()
                .map(|one| source.of_or_mark(&id(&one.name))),
        );
        table.row(row);
    };
    for room in source.model.house.rooms.values() {
        if !room.unconditioned && room.served_by.is_none() {
            put(Text::tag(&room.name), &|at| {
                format!("room.{}.temperature@{at}", room.name)
            });
        }
    }
    put(say("room-air.spread").into(), &|at| {
        format!("house.spread@{at}")
    });
    for unit in source.model.air_handlers.values() {
        let running = say("room-air.running").with("unit", Text::tag(&unit.name));
        put(running.into(), &|at| {
            format!("air-handler.{}.running@{at}", unit.name)
        });
    }
    let mut out = vec![Block::heading(say("room-air.further"))];
    out.push(Block::Table(table));
    for one in conditions {
        let words = say("room-air.condition").with("words", Text::quote(source.files, one.span));
        out.push(Block::note(words));
    }
    out.push(Block::note(say("room-air.further-note")));
    out
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
    for block in further(source) {
        page.put(block);
    }
    pages.push(page);
}
