//! Everything named in the job that has no page of its own.

use super::as_written::table;
use super::source::PageSource;
use crate::packet::page::{Block, Page};
use crate::packet::text::say;

/// Kinds whose every statement stands on a page of its own.
const ELSEWHERE: &[&str] = &[
    "story",
    "room",
    "trunk",
    "run",
    "drain",
    "pan",
    "pump",
    "circuit",
    "cable",
    "air-handler",
    "line-set",
    "water-pipe",
    "water-coil",
    "boiler",
    "circulator",
    "radiators",
    "chiller",
];

/// The page of all other things; none when there are none.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let others: Vec<_> = source
        .model
        .parts
        .iter()
        .filter(|part| !ELSEWHERE.contains(&part.kind))
        .collect();
    if others.is_empty() {
        return;
    }
    let mut page = Page::new("other-things", say("other.title"));
    page.put(Block::paragraph(say("other.words")));
    page.put(table(source, &others));
    pages.push(page);
}
