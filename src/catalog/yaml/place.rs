//! Places in a catalog's text, from the marks that the parser sets.

use serde_yaml::granit_parser::Marker;

use crate::source::{FileId, Span};

/// A text and the file that it is in.
#[derive(Clone, Copy)]
pub(super) struct Page<'a> {
    pub(super) file: FileId,
    pub(super) text: &'a str,
}

impl<'a> Page<'a> {
    /// The words at a place.
    pub(super) fn words(&self, at: Span) -> &'a str {
        self.text
            .get(at.start as usize..at.end as usize)
            .unwrap_or("")
            .trim()
    }

    /// From one mark of the parser to another.
    pub(super) fn span(&self, start: Marker, end: Marker) -> Span {
        let byte = |mark: Marker| mark.byte_offset().and_then(|at| u32::try_from(at).ok());
        match (byte(start), byte(end)) {
            (Some(start), Some(end)) if start <= end && end as usize <= self.text.len() => {
                Span::new(self.file, start, end)
            }
            _ => Span::new(self.file, 0, 0),
        }
    }

    /// The point that an error speaks of, by its line and column.
    pub(super) fn point(&self, mark: Marker) -> Span {
        let start: usize = self
            .text
            .split_inclusive('\n')
            .take(mark.line().saturating_sub(1))
            .map(str::len)
            .sum();
        let rest = self.text.get(start..).unwrap_or("");
        let rest = rest.lines().next().unwrap_or("");
        let within = rest
            .char_indices()
            .nth(mark.col())
            .map_or(rest.len(), |(at, _)| at);
        let at = u32::try_from(start + within).unwrap_or(u32::MAX);
        Span::new(self.file, at, at)
    }
}

/// An empty place grows to the words from there to the line's end, or of the line before it.
pub(super) fn line_rest(text: &str, at: Span) -> Span {
    if !at.is_empty() {
        return at;
    }
    let byte = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    let start = text.len().min(at.start as usize);
    let after = text.get(start..).unwrap_or("");
    let line = after.lines().next().unwrap_or("");
    if !line.trim().is_empty() {
        let end = start + line.trim_end().len();
        return Span::new(at.file, byte(start), byte(end));
    }
    let before = text.get(..start).unwrap_or("").trim_end();
    let from = before.rfind('\n').map_or(0, |n| n + 1);
    Span::new(at.file, byte(from), byte(before.len()))
}
