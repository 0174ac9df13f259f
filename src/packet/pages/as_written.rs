//! Things of the job with their statements quoted, so that nothing written is lost.

use super::source::PageSource;
use crate::model::Part;
use crate::packet::page::{Block, Column, Table};
use crate::packet::text::{Text, say};

/// The things of these kinds.
pub(super) fn of_kinds<'a>(source: &PageSource<'a>, kinds: &[&str]) -> Vec<&'a Part> {
    let parts = source.model.parts.iter();
    parts.filter(|part| kinds.contains(&part.kind)).collect()
}

/// A table of things: the head as written, and its statements.
pub(super) fn table(source: &PageSource<'_>, parts: &[&Part]) -> Block {
    let mut table = Table::new(vec![
        Column::left(say("other.col-thing")),
        Column::left(say("other.col-said")).wide(),
    ]);
    for part in parts {
        let said = part.said.iter().map(|(span, _)| source.quote(*span));
        table.row([source.quote(part.span), Text::listed(said)]);
    }
    Block::Table(table)
}
