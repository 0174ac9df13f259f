//! The cover: the job, what is still open, who signs, and what the packet does not decide.

use super::source::PageSource;
use crate::language::Unknown;
use crate::model::Stage;
use crate::packet::page::{Blank, Block, Caution, Column, Fact, Hazard, Page, Table};
use crate::packet::text::{Phrase, Text, say};
use crate::source::{Severity, Span, Spanned};

fn job_facts(source: &PageSource<'_>) -> Vec<Fact> {
    let job = &source.model.job;
    let quoted = |span: Span| Text::quote(source.files, span);
    let mut facts = Vec::new();
    let mut put = |name: Phrase, value: Option<Text>| {
        if let Some(value) = value {
            facts.push(Fact::new(name, value));
        }
    };
    facts_of_revision(source, &mut put);
    put(
        say("cover.address"),
        job.address.as_ref().map(|a| quoted(a.span)),
    );
    put(
        say("cover.prepared-by"),
        job.prepared_by.as_ref().map(|who| quoted(who.span)),
    );
    let stage = match job.stage {
        Stage::Bid => say("cover.stage-bid"),
        Stage::Order => say("cover.stage-order"),
        Stage::RoughIn => say("cover.stage-rough-in"),
        Stage::StartUp => say("cover.stage-start-up"),
    };
    put(say("cover.stage"), Some(stage.into()));
    put(
        say("cover.year-built"),
        job.year_built.as_ref().map(|year| quoted(year.span)),
    );
    let edition = |words: Phrase, edition: &Option<Spanned<String>>| {
        edition
            .as_ref()
            .map(|year| Text::from(words.with("edition", quoted(year.span))))
    };
    let codes: Vec<Text> = [
        edition(say("cover.irc"), &job.codes.irc),
        edition(say("cover.nec"), &job.codes.nec),
    ]
    .into_iter()
    .flatten()
    .collect();
    put(
        say("cover.codes"),
        (!codes.is_empty()).then(|| Text::listed(codes)),
    );
    put(
        say("cover.origin"),
        job.origin.as_ref().map(|corner| quoted(corner.span)),
    );
    facts
}

fn facts_of_revision(source: &PageSource<'_>, put: &mut impl FnMut(Phrase, Option<Text>)) {
    let job = &source.model.job;
    let quoted = |span: Span| Text::quote(source.files, span);
    put(
        say("cover.number"),
        job.number.as_ref().map(|n| quoted(n.span)),
    );
    if let Some(latest) = job.latest() {
        let words = say("cover.revision-of")
            .with("mark", quoted(latest.mark.span))
            .with("date", quoted(latest.date.span));
        put(say("cover.revision"), Some(words.into()));
        put(say("cover.changed"), Some(quoted(latest.reason.span)));
    }
}

/// What is not settled: errors of a draft, values not known yet, checks that could not be made.
fn holds(source: &PageSource<'_>) -> Option<Table> {
    let mut table = Table::new(vec![
        Column::left(say("holds.what")).wide(),
        Column::left(say("holds.who")),
        Column::center(say("holds.settled")),
    ]);
    let errors = source
        .findings
        .iter()
        .filter(|f| f.waived.is_none() && f.severity == Severity::Error);
    for finding in errors {
        let what = Text::named(Text::code(finding.kind), Text::finding(finding));
        table.strong_row([what, say("holds.planner").into(), Text::blank()]);
    }
    for open in &source.model.open {
        let who = match open.unknown {
            Unknown::ToMeasure => say("holds.to-measure"),
            Unknown::ByOthers => say("holds.by-others"),
        };
        let what = Text::line(source.files, open.span);
        table.row([what, who.into(), Text::blank()]);
    }
    for gap in source.not_checked {
        let what = say("holds.not-checked")
            .with("thing", Text::gap_thing(gap))
            .with("title", Text::gap_title(gap))
            .with("reason", Text::gap_reason(gap));
        table.row([what.into(), say("holds.lead").into(), Text::blank()]);
    }
    (!table.rows.is_empty()).then_some(table)
}

/// The cover, then what is in the packet and how it is read.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let mut cover = Page::new("cover", say("cover.title"));
    if let Some(whole) = source.model.job.whole {
        cover.rests_on(source.files, whole);
    }
    if let Some(title) = &source.model.job.title {
        cover.put(Block::heading(Text::quote(source.files, title.span)));
    }
    cover.put(Block::Facts(job_facts(source)));
    cover.put(Block::heading(say("holds.title")));
    match holds(source) {
        Some(table) => {
            cover.put(Block::paragraph(say("holds.meaning")));
            cover.put(Block::Table(table));
        }
        None => cover.put(Block::paragraph(say("holds.none"))),
    }
    cover.put(Block::Caution(Caution::new(
        Hazard::General,
        say("cover.rules-first"),
    )));
    cover.put(Block::paragraph(say("cover.no-approval")));
    cover.put(Block::heading(say("cover.sign-off")));
    cover.put(Block::Blanks(vec![
        Blank::new(say("cover.sign-planner")),
        Blank::new(say("cover.sign-lead")),
        Blank::new(say("cover.sign-owner")),
        Blank::new(say("cover.sign-inspector")),
    ]));
    pages.push(cover);
    let mut contents = Page::new("contents", say("contents.title"));
    contents.put(Block::paragraph(say("contents.order")));
    contents.put(Block::paragraph(say("contents.figures")));
    contents.put(Block::paragraph(say("contents.letters")));
    contents.put(Block::Contents);
    pages.push(contents);
}
