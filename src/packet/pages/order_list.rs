//! The pull list (what to load) and the order list (what to buy).

use super::source::PageSource;
use crate::material::Unit;
use crate::packet::page::{Block, Column, Page, Table, Trade};
use crate::packet::text::{Phrase, Text, say};

/// The pull list; none when nothing is needed.
pub(super) fn add_pull(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    if source.material.needs.is_empty() {
        return;
    }
    let mut page = Page::new("pull-list", say("pull.title")).trades(&[
        Trade::Lead,
        Trade::SheetMetal,
        Trade::Plumber,
        Trade::Electrician,
        Trade::Refrigeration,
    ]);
    let mut table = Table::new(vec![
        Column::left(say("pull.col-item")).wide(),
        Column::right(say("pull.col-count")),
        Column::left(say("pull.col-for")).wide(),
        Column::center(say("pull.col-loaded")),
    ]);
    for need in &source.material.needs {
        let count = source
            .figure(&need.count_figure())
            .map_or_else(|| say("pull.as-needed").into(), Text::figure);
        table.row([
            Text::item(source.files, need),
            count,
            Text::uses(source.files, need),
            Text::blank(),
        ]);
    }
    page.put(Block::Table(table));
    let mut there = Table::new(vec![
        Column::left(say("pull.col-item")).wide(),
        Column::left(say("pull.col-for")).wide(),
    ]);
    for (model, head) in &source.material.existing {
        there.row([source.quote(*model), source.quote(*head)]);
    }
    if !there.rows.is_empty() {
        page.put(Block::heading(say("pull.existing")));
        page.put(Block::Table(there));
    }
    pages.push(page);
}

const fn unit(unit: Unit) -> Phrase {
    match unit {
        Unit::Each => say("order.each"),
        Unit::Pack => say("order.pack"),
        Unit::Length => say("order.length"),
        Unit::Coil => say("order.coil"),
    }
}

/// The order list; none when nothing is needed.
pub(super) fn add_order(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let needs = &source.material.needs;
    if needs.is_empty() {
        return;
    }
    let mut page = Page::new("order-list", say("order.title")).trades(&[Trade::Lead]);
    page.put(Block::note(say("pieces.not-proven")));
    let mut table = Table::new(vec![
        Column::left(say("pull.col-item")).wide(),
        Column::left(say("order.col-pack")),
        Column::right(say("order.col-quantity")),
        Column::left(say("order.col-unit")),
        Column::right(say("order.col-price")),
    ]);
    for need in needs.iter().filter(|need| need.quantity() != Some(0)) {
        let quantity = source
            .figure(&need.quantity_figure())
            .map_or_else(|| say("pull.as-needed").into(), Text::figure);
        let price = need
            .price_span
            .map_or_else(Text::empty, |span| source.quote(span));
        table.row([
            Text::item(source.files, need),
            Text::pack(source.files, need),
            quantity,
            unit(need.unit).into(),
            price,
        ]);
    }
    page.put(Block::Table(table));
    let mut missing = Table::new(vec![
        Column::left(say("pull.col-item")).wide(),
        Column::left(say("order.col-why")).wide(),
    ]);
    for need in needs {
        if let Some(why) = Text::missing_item(source.files, need) {
            missing.row([Text::item(source.files, need), why]);
        }
    }
    if !missing.rows.is_empty() {
        page.put(Block::heading(say("order.missing")));
        page.put(Block::Table(missing));
    }
    pages.push(page);
}
