//! Short ways to quote the job and to print its figures.

use super::source::PageSource;
use crate::catalog::Stated;
use crate::figures::{Figure, FigureValue};
use crate::packet::page::Fact;
use crate::packet::text::{Phrase, Text, say};
use crate::source::{Span, Spanned};

impl<'a> PageSource<'a> {
    /// The words at `span`.
    pub(in crate::packet) fn quote(&self, span: Span) -> Text {
        Text::quote(self.files, span)
    }

    /// The words that a value was read from.
    pub(in crate::packet) fn word<T>(&self, word: &Spanned<T>) -> Text {
        self.quote(word.span)
    }

    /// The words that a value was read from, or that it is not stated.
    pub(in crate::packet) fn word_or_not<T>(&self, word: Option<&Spanned<T>>) -> Text {
        word.map_or_else(|| say("quote.not-stated").into(), |word| self.word(word))
    }

    /// The words of the catalog, or that it does not say.
    pub(in crate::packet) fn stated<T>(&self, stated: &Stated<T>) -> Text {
        match stated.as_ref() {
            Some(_) => self.quote(stated.span),
            None => say("quote.not-stated").into(),
        }
    }

    /// The part of `span` that reads `word`: the name in a head.
    pub(in crate::packet) fn part(&self, span: Span, word: &str) -> Option<Span> {
        let text = self.files.text(span);
        let ends = |c: Option<char>| {
            c.is_none_or(|c| !(c.is_alphanumeric() || matches!(c, '-' | '_' | '.')))
        };
        let (at, _) = text.match_indices(word).find(|(at, _)| {
            let before = text.get(..*at).and_then(|t| t.chars().next_back());
            let after = text.get(at + word.len()..).and_then(|t| t.chars().next());
            // `ah.drain` names `ah` too.
            ends(before) && (ends(after) || after == Some('.'))
        })?;
        let start = span.start + u32::try_from(at).ok()?;
        let end = start + u32::try_from(word.len()).ok()?;
        Some(Span::new(span.file, start, end))
    }

    /// A name, quoted from the head at `span` where it stands there.
    pub(in crate::packet) fn name(&self, span: Span, name: &str) -> Text {
        self.part(span, name)
            .map_or_else(|| Text::tag(name), |span| self.quote(span))
    }

    /// The figure `id`, where it was computed.
    pub(in crate::packet) fn figure(&self, id: &str) -> Option<&'a Figure> {
        self.ledger.get(id)
    }

    /// The figure `id`, or that it is not computed.
    pub(in crate::packet) fn of(&self, id: &str) -> Text {
        self.figure(id)
            .map_or_else(|| say("quote.not-computed").into(), Text::figure)
    }

    /// The figure `id`, or an empty cell.
    pub(in crate::packet) fn of_or_empty(&self, id: &str) -> Text {
        self.figure(id).map_or_else(Text::empty, Text::figure)
    }

    /// The figure `id`, or a mark that it is not known; an empty cell where there is none to know.
    pub(in crate::packet) fn of_or_mark(&self, id: &str) -> Text {
        match self.figure(id) {
            Some(figure) if matches!(figure.value, FigureValue::Unknown(_)) => {
                say("quote.not-known").into()
            }
            Some(figure) => Text::figure(figure),
            None => Text::empty(),
        }
    }

    /// A large fact of the figure `id`; none where nothing computes it.
    pub(in crate::packet) fn big_fact(&self, name: Phrase, id: &str) -> Option<Fact> {
        self.figure(id)?;
        Some(Fact::big(name, self.of_or_mark(id)))
    }

    /// Why figures of `ids` are not known, each reason once.
    pub(in crate::packet) fn why_not(&self, ids: impl IntoIterator<Item = String>) -> Vec<Text> {
        let mut said: Vec<&str> = Vec::new();
        let mut out = Vec::new();
        for id in ids {
            if let Some(figure) = self.figure(&id)
                && let FigureValue::Unknown(reason) = &figure.value
                && !said.contains(&reason.as_str())
            {
                said.push(reason);
                out.push(Text::figure(figure));
            }
        }
        out
    }

    /// The figure `id`, unless it is absent or not known.
    pub(in crate::packet) fn known(&self, id: &str) -> Option<&'a Figure> {
        self.figure(id)
            .filter(|figure| !matches!(figure.value, FigureValue::Unknown(_)))
    }

    /// The figure `id`, or that it is not stated; an empty cell where there is none to state.
    pub(in crate::packet) fn known_or_not(&self, id: &str) -> Text {
        match self.figure(id) {
            Some(figure) if matches!(figure.value, FigureValue::Unknown(_)) => {
                say("quote.not-stated").into()
            }
            Some(figure) => Text::figure(figure),
            None => Text::empty(),
        }
    }
}
