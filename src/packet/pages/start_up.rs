//! The start-up record: steps in order with their cautions, readings with what is expected, and blanks.

use super::fitted::{cools, heats, traps, watches_water};
use super::readings::{Reading, air, outlets, power, refrigerant, temperature};
use super::source::PageSource;
use super::split_grid;
use crate::packet::page::{Blank, Block, Caution, Column, Hazard, Page, Table, Tick, Trade};
use crate::packet::text::{Phrase, Text, say};

const TRADES: &[Trade] = &[Trade::ServiceTech, Trade::Lead];

/// The record; none for a job without an air handler.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    if source.model.air_handlers.is_empty() {
        return;
    }
    let mut page = Page::new("start-up", say("start.title")).trades(TRADES);
    for unit in source.model.air_handlers.values() {
        page.rests_on(source.files, unit.whole);
    }
    page.put(Block::Ticks(steps(source)));
    group(&mut page, say("start.power"), &power(source));
    group(&mut page, say("start.air"), &air(source));
    group(&mut page, say("start.temperatures"), &temperature(source));
    group(&mut page, say("start.refrigerant"), &refrigerant(source));
    page.put(Block::heading(say("start.signed")));
    page.put(Block::Blanks(vec![
        Blank::new(say("start.by")),
        Blank::new(say("start.day")),
        Blank::new(say("start.remarks")),
    ]));
    pages.push(page);
    let flows = outlets(source);
    if !flows.is_empty() {
        pages.push(flow_page(source, &flows));
    }
    split_grid::add(source, pages);
}

fn group(page: &mut Page, title: Phrase, readings: &[Reading]) {
    if readings.is_empty() {
        return;
    }
    page.put(Block::heading(title));
    let blanks = readings.iter().map(|reading| {
        let name = if reading.at.is_empty() {
            reading.what.clone()
        } else {
            Text::listed([reading.what.clone(), reading.at.clone()])
        };
        Blank::new(name)
            .expected(reading.wanted())
            .unit(reading.unit.clone())
    });
    page.put(Block::Blanks(blanks.collect()));
}

fn steps(source: &PageSource<'_>) -> Vec<Tick> {
    let floats = watches_water(source);
    let mut steps = vec![Tick::new(say("start.step-pages"))];
    if traps(source) {
        let words = if floats {
            say("start.step-trap-float")
        } else {
            say("start.step-trap")
        };
        steps
            .push(Tick::new(words).caution(Caution::new(Hazard::Water, say("drain.caution-trap"))));
    }
    steps.extend([
        Tick::new(say("start.step-off")).caution(Caution::new(Hazard::Shock, say("feed.licensed"))),
        Tick::new(say("start.step-blower"))
            .caution(Caution::new(Hazard::Cut, say("start.caution-blower"))),
        Tick::new(say("start.step-air")),
    ]);
    if cools(source) {
        steps.push(
            Tick::new(say("start.step-cool"))
                .caution(Caution::new(Hazard::Pressure, say("lines.certified"))),
        );
    }
    for unit in source.model.equipment.values() {
        let id = format!("control.{}.time-off", unit.name);
        if let Some(off) = source.known(&id) {
            steps.push(Tick::new(
                say("start.step-wait")
                    .with("unit", source.name(unit.span, &unit.name))
                    .with("time", Text::figure(off)),
            ));
        }
    }
    if heats(source) {
        steps.push(
            Tick::new(say("start.step-heat"))
                .caution(Caution::new(Hazard::Fire, say("water.caution-hot"))),
        );
    }
    if floats {
        steps.push(Tick::new(say("start.step-float")));
    }
    if cools(source) {
        steps.push(Tick::new(say("start.step-freeze")).caution(Caution::new(
            Hazard::Freezing,
            say("start.caution-safeties"),
        )));
    }
    if !source.model.drains.is_empty() {
        steps.push(Tick::new(say("start.step-drain")));
    }
    steps.push(Tick::new(say("start.step-owner")));
    steps
}

fn flow_page(source: &PageSource<'_>, flows: &[Reading]) -> Page {
    let mut page = Page::new("start-up-outlets", say("start.title-outlets")).trades(TRADES);
    page.put(Block::paragraph(say("start.outlets-words")));
    if let Some(tolerance) = source.known("start-up.outlet-tolerance") {
        page.put(Block::note(
            say("start.outlets-tolerance")
                .with("tolerance", Text::figure(tolerance))
                .with("source", Text::source(tolerance)),
        ));
    }
    // Two outlets a row: a house's outlets then stand on one sheet.
    let half = || {
        [
            Column::left(say("start.outlet")).wide(),
            Column::right(say("start.col-expected")),
            Column::right(say("start.col-range")),
            Column::center(say("start.col-measured")),
        ]
    };
    let cells = |flow: Option<&Reading>| {
        flow.map_or_else(
            || std::array::from_fn(|_| Text::empty()),
            |flow| {
                [
                    flow.at.clone(),
                    flow.expected.clone(),
                    flow.range(),
                    Text::blank(),
                ]
            },
        )
    };
    let rows = flows.len().div_ceil(2);
    let mut table = Table::new(half().into_iter().chain(half()).collect());
    for n in 0..rows {
        let (left, right) = (flows.get(n), flows.get(n + rows));
        table.row(cells(left).into_iter().chain(cells(right)));
    }
    page.put(Block::Table(table));
    page
}
