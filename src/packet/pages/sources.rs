//! Sources: every standard, table and practice that a printed figure or a finding rests on.

use std::collections::{BTreeMap, BTreeSet};

use super::source::PageSource;
use crate::figures::Input;
use crate::packet::page::{Block, Column, Page, Table};
use crate::packet::text::{Text, say};

/// The page; it reads the pages before it, so it is the last one.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let mut open: Vec<String> = Vec::new();
    for page in pages.iter() {
        page.each_text(&mut |text| text.each_figure(&mut |id| open.push(id.to_owned())));
    }
    let mut seen = BTreeSet::new();
    // One figure stands for each source; what a printed figure rests on counts too.
    let mut figures = BTreeMap::new();
    while let Some(id) = open.pop() {
        let Some(figure) = source.figure(&id).filter(|_| seen.insert(id)) else {
            continue;
        };
        if figure.source != "geometry" {
            figures.entry(figure.source.as_ref()).or_insert(figure);
        }
        open.extend(figure.inputs.iter().filter_map(|input| match input {
            Input::Figure(id) => Some(id.clone()),
            _ => None,
        }));
    }
    let mut page = Page::new("sources", say("sources.title"));
    page.put(Block::paragraph(say("sources.words")));
    let mut table = Table::new(vec![Column::left(say("sources.col-figures")).wide()]);
    for figure in figures.values() {
        table.row([Text::source(figure)]);
    }
    page.put(Block::Table(table));
    let mut findings: BTreeMap<&str, &crate::source::Finding> = BTreeMap::new();
    for finding in source.findings {
        findings.entry(finding.kind.code).or_insert(finding);
    }
    if !findings.is_empty() {
        let mut table = Table::new(vec![
            Column::left(say("checked.col-code")),
            Column::left(say("checked.col-title")).wide(),
            Column::left(say("sources.col-source")),
        ]);
        for finding in findings.values() {
            table.row([
                Text::code(finding.kind),
                Text::title(finding.kind),
                Text::finding_source(finding),
            ]);
        }
        page.put(Block::heading(say("sources.findings")));
        page.put(Block::Table(table));
    }
    pages.push(page);
}
