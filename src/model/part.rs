//! Every named thing of the job as one flat list, so that nothing that was written is lost:
//! things whose checks come later still land in plan and lists.

use crate::language::{Entry, Value};
use crate::source::Span;

/// A named thing of the job.
#[derive(Clone, Debug)]
pub struct Part {
    /// Its word in the language (`line-set`, `pan`, …).
    pub kind: &'static str,
    /// Its name, when it has one.
    pub name: Option<String>,
    /// The story it stands on, when it says so.
    pub story: Option<String>,
    /// The catalog item or model, when it names one.
    pub item: Option<String>,
    /// Its head.
    pub span: Span,
    /// Its statements as written, in order.
    pub said: Vec<(Span, String)>,
}

fn word_in(entry: &Entry, slots: &[&str]) -> Option<String> {
    entry
        .body
        .iter()
        .chain(std::iter::once(entry))
        .flat_map(|statement| &statement.fields)
        .find(|field| slots.contains(&field.slot))
        .and_then(|field| match &field.value.value {
            Value::Word(text) | Value::Text(text) => Some(text.clone()),
            _ => None,
        })
}

/// The parts of a job's entries, with `text` giving the words at a span.
pub(super) fn list(entries: &[Entry], text: impl Fn(Span) -> String + Copy) -> Vec<Part> {
    entries
        .iter()
        .filter(|entry| entry.word.has_block() && entry.word.word != "job")
        .map(|entry| Part {
            kind: entry.word.word,
            name: entry.text("name").known().map(|name| name.value),
            story: word_in(entry, &["story"]),
            item: word_in(
                entry,
                &["model", "item", "pipe", "tube", "type", "cable", "grille"],
            ),
            span: entry.span,
            said: entry
                .body
                .iter()
                .map(|statement| (statement.span, text(statement.span)))
                .collect(),
        })
        .collect()
}
