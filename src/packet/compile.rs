//! Makes the packet of a checked job: its facts and its pages.

use super::page::{Date, JobFacts, Packet};
use super::pages::{PageSource, pages};
use super::text::{Text, say};

/// What every page says of the job; a draft is a packet with errors left.
fn facts(source: &PageSource<'_>) -> JobFacts {
    let job = &source.model.job;
    let quoted = |span| Text::quote(source.files, span);
    let latest = job.latest();
    let errors = source.errors();
    JobFacts {
        title: job
            .title
            .as_ref()
            .map_or_else(|| say("cover.untitled").into(), |title| quoted(title.span)),
        number: job
            .number
            .as_ref()
            .map_or_else(Text::empty, |number| quoted(number.span)),
        revision: latest.map_or_else(Text::empty, |latest| quoted(latest.mark.span)),
        revised: latest.map_or_else(Text::empty, |latest| quoted(latest.date.span)),
        date: latest.and_then(|latest| Date::parse(&latest.date.value)),
        revisions: job
            .revisions
            .iter()
            .map(|revision| (quoted(revision.mark.span), quoted(revision.date.span)))
            .collect(),
        draft: (errors > 0).then_some(errors),
    }
}

/// The packet of a checked job.
pub fn compile<'a>(source: &PageSource<'a>) -> Packet<'a> {
    Packet {
        job: facts(source),
        pages: pages(source),
        ledger: source.ledger,
        files: source.files,
    }
}
