//! What was checked: counts, waivers, what was not checked, loosened thresholds, findings left, and what all that is not.

use super::source::PageSource;
use crate::figures::Figure;
use crate::packet::page::{Block, Caution, Column, Fact, Hazard, Page, Table};
use crate::packet::text::{Phrase, Text, plural, say};
use crate::rules::{RULES, unruled};
use crate::source::{Counts, Finding, Severity};

/// The page.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let mut page = Page::new("checked", say("checked.title"));
    page.put(counts(source));
    left(source, &mut page);
    waived(source, &mut page);
    not_checked(source, &mut page);
    loosened(source, &mut page);
    no_rule_yet(source, &mut page);
    page.put(Block::heading(say("checked.closing")));
    page.put(Block::Caution(Caution::new(
        Hazard::General,
        say("cover.rules-first"),
    )));
    page.put(Block::paragraph(say("checked.no-approval")));
    pages.push(page);
}

fn count(name: &str, n: usize) -> Figure {
    Figure::count(format!("packet.checked.{name}"), n)
}

fn counts(source: &PageSource<'_>) -> Block {
    let counts = Counts::of(source.findings, source.not_checked.len());
    let fact = |name: Phrase, id: &str, n| Fact::new(name, Text::figure(&count(id, n)));
    Block::Facts(vec![
        fact(say("checked.rules"), "rules", RULES.len()),
        fact(say("checked.errors"), "errors", counts.error),
        fact(say("checked.warnings"), "warnings", counts.warning),
        fact(say("checked.advice"), "advice", counts.advice),
        fact(say("checked.waived-count"), "waived", counts.waived),
        fact(say("checked.not-count"), "not-checked", counts.not_checked),
    ])
}

fn findings_table<'f>(
    source: &PageSource<'_>,
    findings: impl Iterator<Item = &'f Finding>,
) -> Table {
    let mut table = Table::new(vec![
        Column::left(say("checked.col-code")),
        Column::left(say("checked.col-what")).wide(),
        Column::left(say("checked.col-found")),
        Column::left(say("checked.col-needed")),
    ]);
    for finding in findings {
        let (found, needed) = match Text::measured(finding) {
            Some((found, relation, needed)) => (found, relation_words(relation, needed)),
            None => (Text::empty(), Text::empty()),
        };
        let line = Text::line(source.files, finding.span);
        let what = say("checked.what-where")
            .with("what", Text::finding(finding))
            .with("line", line);
        let cells = [Text::code(finding.kind), what.into(), found, needed];
        if finding.severity == Severity::Error {
            table.strong_row(cells);
        } else {
            table.row(cells);
        }
    }
    table
}

fn relation_words(relation: &str, needed: Text) -> Text {
    match relation {
        "at least" => say("feed.at-least").with("value", needed).into(),
        "at most" => say("feed.at-most").with("value", needed).into(),
        "not" => say("checked.not").with("value", needed).into(),
        _ => needed,
    }
}

fn left(source: &PageSource<'_>, page: &mut Page) {
    let left: Vec<&Finding> = source
        .findings
        .iter()
        .filter(|finding| finding.waived.is_none())
        .collect();
    page.put(Block::heading(say("checked.left")));
    if left.is_empty() {
        page.put(Block::paragraph(say("checked.none-left")));
        return;
    }
    let n = count("left", left.len());
    let words = plural(say("checked.left-one"), say("checked.left-many"), &n);
    page.put(Block::paragraph(words));
    page.put(Block::Table(findings_table(source, left.into_iter())));
}

fn waived(source: &PageSource<'_>, page: &mut Page) {
    page.put(Block::heading(say("checked.waived")));
    let waived: Vec<&Finding> = source
        .findings
        .iter()
        .filter(|finding| finding.waived.is_some())
        .collect();
    if waived.is_empty() {
        page.put(Block::paragraph(say("checked.none-waived")));
        return;
    }
    page.put(Block::Table(findings_table(source, waived.into_iter())));
    let mut table = Table::new(vec![
        Column::left(say("checked.col-code")),
        Column::left(say("checked.col-reason")).wide(),
        Column::left(say("checked.col-by")),
        Column::left(say("checked.col-on")),
    ]);
    for waiver in &source.model.waivers {
        table.row([
            source.word(&waiver.code),
            source.word(&waiver.reason),
            source.word_or_not(waiver.by.as_ref()),
            source.word_or_not(waiver.on.as_ref()),
        ]);
    }
    page.put(Block::Table(table));
}

fn not_checked(source: &PageSource<'_>, page: &mut Page) {
    page.put(Block::heading(say("checked.not-checked")));
    if source.not_checked.is_empty() {
        page.put(Block::paragraph(say("checked.all-checked")));
        return;
    }
    let mut table = Table::new(vec![
        Column::left(say("checked.col-code")),
        Column::left(say("checked.col-thing")),
        Column::left(say("checked.col-title")).wide(),
        Column::left(say("checked.col-why")),
    ]);
    for gap in source.not_checked {
        table.row([
            Text::gap_code(gap),
            Text::gap_thing(gap),
            Text::gap_title(gap),
            Text::gap_reason(gap),
        ]);
    }
    page.put(Block::Table(table));
}

/// The sorts of blocks of this job that no rule judges yet.
fn no_rule_yet(source: &PageSource<'_>, page: &mut Page) {
    let kinds = unruled(source.model);
    if kinds.is_empty() {
        return;
    }
    page.put(Block::heading(say("checked.no-rule")));
    let words = Text::listed(kinds.into_iter().map(Text::tag));
    page.put(Block::paragraph(
        say("checked.no-rule-for").with("what", words),
    ));
}

fn loosened(source: &PageSource<'_>, page: &mut Page) {
    if source.loosened.is_empty() {
        return;
    }
    page.put(Block::heading(say("checked.loosened")));
    let mut table = Table::new(vec![
        Column::left(say("checked.col-code")),
        Column::left(say("checked.col-loosened")).wide(),
        Column::left(say("checked.col-line")),
    ]);
    for loosened in source.loosened {
        table.row([
            Text::loosened_code(loosened),
            Text::loosened(loosened),
            Text::line(source.files, loosened.span),
        ]);
    }
    page.put(Block::Table(table));
}
