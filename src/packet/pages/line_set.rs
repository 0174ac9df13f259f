//! Refrigerant lines: what the job says of them, and the steps with their cautions.

use super::as_written::{of_kinds, table};
use super::source::PageSource;
use crate::packet::page::{Block, Caution, Column, Hazard, Page, Table, Tick, Trade};
use crate::packet::text::{Text, say};

/// The page on line sets; none when the job has none.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let parts = of_kinds(source, &["line-set"]);
    if parts.is_empty() {
        return;
    }
    let mut page = Page::new("line-set", say("lines.title")).trades(&[Trade::Refrigeration]);
    page.put(Block::Caution(Caution::new(
        Hazard::Pressure,
        say("lines.certified"),
    )));
    page.put(table(source, &parts));
    if let Some(ports) = ports(source) {
        page.put(Block::heading(say("lines.ports")));
        page.put(ports);
    }
    page.put(Block::heading(say("feed.steps")));
    page.put(steps());
    pages.push(page);
}

/// Sizes of the refrigerant ports at both ends, by the catalog.
fn ports(source: &PageSource<'_>) -> Option<Block> {
    let mut table = Table::new(vec![
        Column::left(say("lines.col-unit")).wide(),
        Column::right(say("lines.col-suction")),
        Column::right(say("lines.col-liquid")),
        Column::left(say("lines.col-refrigerant")),
    ]);
    for unit in source.model.air_handlers.values() {
        let size = |port: Option<&crate::catalog::Port>| {
            port.map_or_else(Text::empty, |port| source.stated(&port.size))
        };
        table.row([
            source.name(unit.span, &unit.name),
            size(unit.sheet.ports.suction.as_ref()),
            size(unit.sheet.ports.liquid.as_ref()),
            source.stated(&unit.sheet.refrigerant),
        ]);
    }
    for unit in source.model.equipment.values() {
        let model = unit.model.as_ref().map(|model| model.value.as_str());
        let Some(sheet) = model.and_then(|model| source.catalog.outdoor_units.get(model)) else {
            continue;
        };
        table.row([
            source.name(unit.span, &unit.name),
            source.stated(&sheet.suction.size),
            source.stated(&sheet.liquid.size),
            source.stated(&sheet.refrigerant),
        ]);
    }
    (!table.rows.is_empty()).then_some(Block::Table(table))
}

fn steps() -> Block {
    Block::Ticks(vec![
        Tick::new(say("lines.step-run")),
        Tick::new(say("lines.step-sizes")),
        Tick::new(say("lines.step-braze"))
            .caution(Caution::new(Hazard::Fire, say("lines.caution-braze")))
            .caution(Caution::new(Hazard::General, say("lines.caution-nitrogen"))),
        Tick::new(say("lines.step-test"))
            .caution(Caution::new(Hazard::Pressure, say("lines.caution-test"))),
        Tick::new(say("lines.step-evacuate")),
        Tick::new(say("lines.step-charge"))
            .caution(Caution::new(Hazard::Freezing, say("lines.caution-charge"))),
        Tick::new(say("lines.step-insulate")),
    ])
}
