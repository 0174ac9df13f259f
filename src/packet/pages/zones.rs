//! Zones: each alone with the dampers of the others shut, and all together, at the set tap.

use super::source::PageSource;
use crate::figures::Figure;
use crate::language::Entry;
use crate::model::AirHandler;
use crate::packet::page::{Block, Column, Page, Table, Tick, Trade};
use crate::packet::text::{Text, say};

fn named(entry: &Entry) -> Option<String> {
    entry.text("name").known().map(|name| name.value)
}

/// What a row says of a unit under the ending of an operating point.
fn row(source: &PageSource<'_>, unit: &AirHandler, first: Text, suffix: &str) -> Vec<Text> {
    let air = |what: &str| source.of_or_mark(&format!("air-handler.{}.{what}{suffix}", unit.name));
    vec![
        first,
        air("airflow"),
        air("airflow-per-ton"),
        air("plenum-pressure"),
        source.of_or_mark(&format!("coil.{}.freeze-margin{suffix}", unit.name)),
    ]
}

/// The same at the tap of the first stage: what its smaller capacity makes of tons and coil is not in the catalog.
fn first_stage(source: &PageSource<'_>, unit: &AirHandler, first: Text, suffix: &str) -> Vec<Text> {
    let air = |what: &str| source.of_or_mark(&format!("air-handler.{}.{what}{suffix}", unit.name));
    vec![
        first,
        air("airflow"),
        Text::empty(),
        air("plenum-pressure"),
        Text::empty(),
    ]
}

/// What each outlet gives all together and with each zone alone for which something is shut; none where none is.
fn outlets(source: &PageSource<'_>, unit: &str, zones: &[(&Entry, String)]) -> Option<Table> {
    let real = |id: String| source.figure(&id).and_then(Figure::real);
    let whole = real(format!("air-handler.{unit}.airflow"));
    let apart: Vec<&str> = zones
        .iter()
        .map(|(_, name)| name.as_str())
        .filter(|name| {
            let alone = real(format!("air-handler.{unit}.airflow@zone-{name}"));
            alone
                .zip(whole)
                .is_some_and(|(a, b)| (a - b).abs() > 1e-6 * b)
        })
        .collect();
    if apart.is_empty() {
        return None;
    }
    let first = [
        Column::left(say("zones.outlet")).wide(),
        Column::right(say("zones.together")),
    ];
    let columns = apart
        .iter()
        .map(|name| Column::right(say("zones.alone").with("zone", Text::tag(name))));
    let mut table = Table::new(first.into_iter().chain(columns).collect());
    for run in source.model.runs.values() {
        let own = source.model.unit_of(&run.trunk.value);
        if own.is_none_or(|own| own.name != unit) {
            continue;
        }
        let of = |suffix: &str| format!("run.{}.airflow{suffix}", run.name);
        let alone = apart.iter().map(|name| {
            source
                .known(&of(&format!("@zone-{name}")))
                .map_or_else(Text::empty, Text::figure)
        });
        table.row(
            [Text::tag(&run.name), source.of_or_mark(&of(""))]
                .into_iter()
                .chain(alone),
        );
    }
    Some(table)
}

/// One page a unit that feeds zones.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let entries = |word: &'static str| source.model.blocks(word);
    for unit in source.model.air_handlers.values() {
        let id = |zone: &str| format!("air-handler.{}.airflow@zone-{zone}", unit.name);
        let zones: Vec<(&Entry, String)> = entries("zone")
            .filter_map(|zone| Some((zone, named(zone)?)))
            .filter(|(_, name)| source.figure(&id(name)).is_some())
            .collect();
        if zones.is_empty() {
            continue;
        }
        let title = say("zones.title").with("unit", Text::tag(&unit.name));
        let mut page = Page::new(format!("zones-{}", unit.name), title)
            .trades(&[Trade::Lead, Trade::ServiceTech]);
        let mut table = Table::new(vec![
            Column::left(say("zones.open")).wide(),
            Column::right(say("fan.airflow")),
            Column::right(say("fan.per-ton")),
            Column::right(say("zones.plenum")),
            Column::right(say("fan.margin")),
        ]);
        table.row(row(source, unit, say("zones.all").into(), ""));
        for (entry, name) in &zones {
            page.rests_on(source.files, entry.whole);
            let suffix = format!("@zone-{name}");
            table.row(row(source, unit, Text::tag(name), &suffix));
        }
        if let Some(tap) = &unit.first_stage_tap {
            let all = say("zones.all-first").with("tap", Text::quote(source.files, tap.span));
            let suffix = format!("@summer.tap{}", tap.value);
            table.row(first_stage(source, unit, all.into(), &suffix));
            for (_, name) in &zones {
                let own = say("zones.alone-first").with("zone", Text::tag(name));
                table.row(first_stage(
                    source,
                    unit,
                    own.into(),
                    &format!("@zone-{name}.first-stage"),
                ));
            }
        }
        page.put(Block::Table(table));
        for reason in source.why_not(zones.iter().map(|(_, name)| id(name))) {
            page.put(Block::note(reason));
        }
        let ticks: Vec<Tick> = entries("damper")
            .map(|damper| {
                page.rests_on(source.files, damper.whole);
                Tick::new(Text::quote(source.files, damper.span))
            })
            .collect();
        page.put(Block::heading(say("zones.dampers")));
        page.put(Block::Ticks(ticks));
        if let Some(table) = outlets(source, &unit.name, &zones) {
            page.put(Block::heading(say("zones.outlets")));
            page.put(Block::Table(table));
        }
        page.put(Block::note(say("zones.note")));
        pages.push(page);
    }
}
