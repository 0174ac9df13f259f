//! The remarks of the job, each with the thing that it stands in.

use super::source::PageSource;
use crate::language::Entry;
use crate::packet::page::{Block, Column, Page, Table};
use crate::packet::text::{Text, say};
use crate::source::Span;

/// The remarks in the block at `whole`.
pub(super) fn notes_of(source: &PageSource<'_>, whole: Span) -> Vec<Text> {
    let block = source.model.entries.iter().find(|e| e.whole == whole);
    block.map_or_else(Vec::new, |block| {
        block
            .children("note")
            .filter_map(|note| note.text("words").known())
            .map(|words| source.word(&words))
            .collect()
    })
}

/// Puts the remarks of an entry and of all in its block; `owner` is what it belongs to where it has no name.
fn walk(
    source: &PageSource<'_>,
    entry: &Entry,
    owner: Option<&Text>,
    page: &mut Page,
    table: &mut Table,
) {
    let own = entry
        .text("name")
        .known()
        .map(|name| Text::joined([Text::tag(entry.word.word), source.word(&name)]));
    let own = own
        .or_else(|| owner.cloned())
        .unwrap_or_else(|| Text::tag(entry.word.word));
    if entry.word.word == "note" {
        if let Some(words) = entry.text("words").known() {
            page.rests_on(source.files, entry.whole);
            table.row([own, source.word(&words)]);
        }
        return;
    }
    for inner in &entry.body {
        walk(source, inner, Some(&own), page, table);
    }
}

/// The page; none for a job without a remark.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let mut page = Page::new("notes", say("notes.title"));
    let mut table = Table::new(vec![
        Column::left(say("notes.thing")),
        Column::left(say("notes.words")).wide(),
    ]);
    for entry in &source.model.entries {
        walk(source, entry, None, &mut page, &mut table);
    }
    if !table.rows.is_empty() {
        page.put(Block::Table(table));
        pages.push(page);
    }
}
