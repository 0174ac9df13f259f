//! If it does not work: causes in the order to check, airflow first, with the figures of this job.

use super::fitted::{cools, heats, traps, watches_water};
use super::source::PageSource;
use crate::model::AirHandler;
use crate::packet::page::{Block, Caution, Hazard, Page, Tick, Trade};
use crate::packet::text::{Phrase, Text, say};

/// The page for each air handler.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    for unit in source.model.air_handlers.values() {
        pages.push(page(source, unit));
    }
}

fn put(page: &mut Page, heading: Phrase, causes: Vec<Tick>) {
    if causes.is_empty() {
        return;
    }
    page.put(Block::heading(heading));
    page.put(Block::Ticks(causes));
}

/// A cause with a figure, where the figure is known.
fn with(source: &PageSource<'_>, id: &str, phrase: Phrase, plain: Phrase) -> Tick {
    match source.figure(id) {
        Some(figure) => Tick::new(phrase.with("value", figure)),
        None => Tick::new(plain),
    }
}

/// Why a pan does not empty; what a trap does only where there is one.
fn water(source: &PageSource<'_>) -> Vec<Tick> {
    let mut causes = Vec::new();
    if traps(source) {
        causes.extend([
            Tick::new(say("trouble.trap-dry")),
            Tick::new(say("trouble.trap-dirty")),
            Tick::new(say("trouble.trap-deep")),
        ]);
    }
    causes.extend([
        Tick::new(say("trouble.sag")),
        Tick::new(say("trouble.joint")),
    ]);
    causes
}

/// Why there is no cold; none for a job that nothing cools.
fn no_cold(source: &PageSource<'_>) -> Vec<Tick> {
    if !cools(source) {
        return Vec::new();
    }
    let mut causes = Vec::new();
    if watches_water(source) {
        causes.push(Tick::new(say("trouble.float")));
    }
    causes.extend([
        Tick::new(say("trouble.cut-out-wait")),
        Tick::new(say("trouble.output")),
        Tick::new(say("trouble.outdoor")),
    ]);
    causes
}

/// Why there is no heat: by water where the unit has a coil for it, else by what a call for heat runs.
fn no_heat(source: &PageSource<'_>, unit: &AirHandler) -> Vec<Tick> {
    let mut coils = source.model.water.coils.values();
    if coils.any(|coil| coil.unit.value == unit.name) {
        return vec![
            Tick::new(say("trouble.air-bound")),
            Tick::new(say("trouble.relay")),
            Tick::new(say("trouble.circulator")),
        ];
    }
    if !heats(source) {
        return Vec::new();
    }
    vec![
        Tick::new(say("trouble.output")),
        Tick::new(say("trouble.heat-source")),
    ]
}

fn page(source: &PageSource<'_>, unit: &AirHandler) -> Page {
    let name = source.name(unit.span, &unit.name);
    let mut page = Page::new(
        format!("trouble-{}", unit.name),
        say("trouble.title").with("unit", name),
    )
    .trades(&[Trade::ServiceTech]);
    page.rests_on(source.files, unit.whole);
    page.put(Block::Caution(Caution::new(
        Hazard::Shock,
        say("trouble.caution"),
    )));
    page.put(Block::paragraph(say("trouble.first")));
    let id = |what: &str| format!("air-handler.{}.{what}", unit.name);
    let tap = unit
        .tap
        .as_ref()
        .map_or_else(|| say("quote.not-stated").into(), |tap| source.word(tap));
    put(
        &mut page,
        say("trouble.air"),
        vec![
            Tick::new(say("trouble.filter")),
            Tick::new(say("trouble.tap").with("tap", tap)),
            Tick::new(say("trouble.outlets")),
            with(
                source,
                &id("plenum-least"),
                say("trouble.plenum-of"),
                say("trouble.plenum"),
            ),
            Tick::new(say("trouble.leaks")),
            Tick::new(say("trouble.blower")),
        ],
    );
    put(
        &mut page,
        say("trouble.ice"),
        vec![
            Tick::new(say("trouble.ice-air")),
            with(
                source,
                &id("freeze-opens"),
                say("trouble.cut-out-of"),
                say("trouble.cut-out"),
            ),
            Tick::new(say("trouble.ice-wire")),
            Tick::new(say("trouble.charge"))
                .caution(Caution::new(Hazard::Pressure, say("lines.certified"))),
        ],
    );
    put(&mut page, say("trouble.water"), water(source));
    let voltage: Text = say("voltage.title")
        .with("unit", source.name(unit.span, &unit.name))
        .into();
    put(
        &mut page,
        say("trouble.no-blower"),
        vec![
            Tick::new(say("trouble.switch")),
            Tick::new(say("trouble.setting").with("page", voltage))
                .caution(Caution::new(Hazard::Shock, say("feed.licensed"))),
            Tick::new(say("trouble.transformer")),
            Tick::new(say("trouble.call")),
        ],
    );
    put(&mut page, say("trouble.no-cold"), no_cold(source));
    put(&mut page, say("trouble.no-heat"), no_heat(source, unit));
    put(
        &mut page,
        say("trouble.noise"),
        vec![
            Tick::new(say("trouble.kink")),
            Tick::new(say("trouble.sound-wet")),
            Tick::new(say("trouble.balance")),
        ],
    );
    page
}
