//! Quotations: the words of a spec or catalog, with their file and line.

use crate::source::{Files, SourceFile, Span};

use super::printed::{Part, Text};

impl Text {
    /// The words at `span` of a spec or catalog, without the quotation marks around a string.
    pub fn quote(files: &Files, span: Span) -> Self {
        let words = files.text(span).trim();
        let inner = words
            .strip_prefix(['"', '“', '”'])
            .and_then(|rest| rest.strip_suffix(['"', '“', '”']))
            .unwrap_or(words);
        Self::at(files, span, one_line(inner))
    }

    /// The whole line of a spec in which `span` begins, without its margins and its comment.
    pub fn line(files: &Files, span: Span) -> Self {
        let text = files.get(span.file).map_or("", SourceFile::text);
        let at = (span.start as usize).min(text.len());
        let before = text.get(..at).unwrap_or("");
        let start = before.rfind('\n').map_or(0, |n| n + 1);
        let rest = text.get(at..).unwrap_or("");
        let end = at + rest.find('\n').unwrap_or(rest.len());
        let line = text.get(start..end).unwrap_or("");
        let kept = line
            .find(" #")
            .map_or(line, |n| line.get(..n).unwrap_or(line));
        let lead = kept.len() - kept.trim_start().len();
        let narrow = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        let from = narrow(start + lead);
        let to = narrow(start + kept.trim_end().len());
        Self::quote(files, Span::new(span.file, from, to.max(from)))
    }

    /// Words of the take-off, with the place of the statement that they were made from.
    pub(super) fn said(files: &Files, span: Option<Span>, words: &str) -> Self {
        let text = one_line(words);
        let Some(span) = span else {
            return Self(Part::Tag(text));
        };
        Self::at(files, span, text)
    }

    fn at(files: &Files, span: Span, text: String) -> Self {
        // The file's own name alone: the packet must not change with the folder it is made from.
        let file = files.name(span.file);
        let file = file.rsplit('/').next().unwrap_or(file);
        Self(Part::Quote {
            place: format!("{file}:{}", files.position(span).line),
            text,
        })
    }
}

/// Breaks and control characters become spaces, and marks that turn the direction of what follows go:
/// a text neither starts a line of its own nor changes how its neighbours read.
pub(super) fn one_line(text: &str) -> String {
    let turns = |c: char| matches!(c, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    text.chars()
        .filter(|c| !turns(*c))
        .map(|c| {
            if c.is_control() || matches!(c, '\u{2028}' | '\u{2029}') {
                ' '
            } else {
                c
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::packet::text::{RunKind, Words};

    #[test]
    fn a_quotation_is_the_words_of_the_file() {
        let mut files = Files::default();
        let id = files.add(SourceFile::new(
            "jobs/a.bay",
            "bayrun 1\njob \"Larkspur\" {",
            None,
        ));
        let text = Text::quote(&files, Span::new(id, 13, 23));
        let words = Words::english();
        assert_eq!(text.plain(words), "Larkspur");
        assert_eq!(
            text.runs(words).first().map(|run| run.kind.clone()),
            Some(RunKind::Quote("a.bay:2".into()))
        );
    }

    #[test]
    fn a_line_is_quoted_without_margin_and_comment() {
        let mut files = Files::default();
        let id = files.add(SourceFile::new(
            "a.bay",
            "x\n  size to measure # soon\ny",
            None,
        ));
        let text = Text::line(&files, Span::new(id, 9, 19));
        assert_eq!(text.plain(Words::english()), "size to measure");
    }

    #[test]
    fn a_quotation_does_not_turn_its_neighbours_round() {
        assert_eq!(one_line("\u{202e}gpj.exe\u{2066}\r\nx"), "gpj.exe  x");
    }
}
