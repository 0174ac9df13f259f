//! What may be printed, by type: each text knows which figure, which words of a spec, or which key it is.

use super::words::{Piece, Words};
use crate::figures::{Figure, FigureValue, Ledger};
use crate::quantity::number_text;
use crate::rules::{Loosened, NotChecked};
use crate::source::{Files, Finding, Kind, SourceFile, Span};

/// A text that may be printed. Builders can make one only from its origin.
#[derive(Clone, Debug, PartialEq)]
pub struct Text(Part);

#[derive(Clone, Debug, PartialEq)]
enum Part {
    Figure {
        id: String,
        shown: String,
        plain: String,
    },
    Quote {
        place: String,
        text: String,
    },
    Phrase(Phrase),
    Report {
        code: &'static str,
        text: String,
    },
    Tag(String),
    Joined {
        parts: Vec<Text>,
        between: &'static str,
    },
    Blank,
    Empty,
    Missing(String),
}

/// Words of the table with their slots filled.
#[derive(Clone, Debug, PartialEq)]
pub struct Phrase {
    key: &'static str,
    slots: Vec<(&'static str, Text)>,
}

/// The words under `key` of the table in `templates/words/`.
pub const fn say(key: &'static str) -> Phrase {
    Phrase {
        key,
        slots: Vec::new(),
    }
}

/// The words under `one` when the figure counts 1, those under `many` otherwise; both have a slot `n`.
pub fn plural(one: Phrase, many: Phrase, count: &Figure) -> Phrase {
    let single = count.real().is_some_and(|n| (n - 1.0).abs() < f64::EPSILON);
    let phrase = if single { one } else { many };
    phrase.with("n", Text::figure(count))
}

impl Phrase {
    /// Fills the slot `{name}`.
    #[must_use]
    pub fn with(mut self, name: &'static str, text: impl Into<Text>) -> Self {
        self.slots.push((name, text.into()));
        self
    }
}

impl From<Phrase> for Text {
    fn from(phrase: Phrase) -> Self {
        Self(Part::Phrase(phrase))
    }
}

impl From<&Figure> for Text {
    fn from(figure: &Figure) -> Self {
        Self::figure(figure)
    }
}

impl Text {
    /// A figure as a person reads it.
    pub fn figure(figure: &Figure) -> Self {
        let plain = match &figure.value {
            FigureValue::Text(text) => text.clone(),
            FigureValue::Bool(yes) => if *yes { "yes" } else { "no" }.to_owned(),
            FigureValue::Unknown(_) => String::new(),
            _ => figure.real().map(|n| number_text(n, 6)).unwrap_or_default(),
        };
        Self(Part::Figure {
            id: figure.id.clone(),
            shown: figure.shown().text,
            plain,
        })
    }

    /// The figure `id` of the ledger; one that is absent prints as not computed and counts as a fault of the builder.
    pub fn of(ledger: &Ledger, id: &str) -> Self {
        ledger
            .get(id)
            .map_or_else(|| Self(Part::Missing(id.to_owned())), Self::figure)
    }

    /// The words at `span` of a spec or catalog, without the quotation marks around a string.
    pub fn quote(files: &Files, span: Span) -> Self {
        let words = files.text(span).trim();
        let inner = words
            .strip_prefix(['"', '“', '”'])
            .and_then(|rest| rest.strip_suffix(['"', '“', '”']))
            .unwrap_or(words);
        // The file's own name alone: the packet must not change with the folder it is made from.
        let file = files.name(span.file);
        let file = file.rsplit('/').next().unwrap_or(file);
        Self(Part::Quote {
            place: format!("{file}:{}", files.position(span).line),
            text: one_line(inner),
        })
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

    /// The thing that a check could not be made on.
    pub fn gap_thing(gap: &NotChecked) -> Self {
        Self::words_of(gap.kind_code, &gap.thing)
    }

    /// The title of the check that could not be made.
    pub fn gap_title(gap: &NotChecked) -> Self {
        Self::words_of(gap.kind_code, gap.title)
    }

    /// The code of the check that could not be made.
    pub fn gap_code(gap: &NotChecked) -> Self {
        Self::words_of(gap.kind_code, gap.kind_code)
    }

    /// Why the check could not be made.
    pub fn gap_reason(gap: &NotChecked) -> Self {
        Self::words_of(gap.kind_code, &gap.reason)
    }

    /// Words of the take-off, with the place of the statement that they were made from.
    pub(super) fn said(files: &Files, span: Option<Span>, words: &str) -> Self {
        let text = one_line(words);
        let Some(span) = span else {
            return Self(Part::Tag(text));
        };
        let file = files.name(span.file);
        let file = file.rsplit('/').next().unwrap_or(file);
        Self(Part::Quote {
            place: format!("{file}:{}", files.position(span).line),
            text,
        })
    }

    /// What the shop's standards loosened.
    pub fn loosened(loosened: &Loosened) -> Self {
        Self::words_of(loosened.code, &loosened.what)
    }

    /// The code of the rule that the shop's standards loosened.
    pub fn loosened_code(loosened: &Loosened) -> Self {
        Self::words_of(loosened.code, loosened.code)
    }

    /// What a finding says.
    pub fn finding(finding: &Finding) -> Self {
        Self::report(finding.kind, &finding.message)
    }

    /// Found and needed of a finding, as its report prints them.
    pub fn measured(finding: &Finding) -> Option<(Self, &'static str, Self)> {
        let (found, needed) = finding.measured.as_ref()?;
        Some((
            Self::report(finding.kind, &found.text),
            needed.relation.words(),
            Self::report(finding.kind, &needed.shown.text),
        ))
    }

    /// The reason that a waiver gives for a finding.
    pub fn waiver(finding: &Finding) -> Option<Self> {
        let reason = finding.waived.as_ref()?;
        Some(Self::report(finding.kind, reason))
    }

    /// A rule's code.
    pub fn code(kind: &'static Kind) -> Self {
        Self::report(kind, kind.code)
    }

    /// A rule's title.
    pub fn title(kind: &'static Kind) -> Self {
        Self::report(kind, kind.title)
    }

    /// The published source of a rule.
    pub fn rule_source(kind: &'static Kind) -> Self {
        Self::report(kind, kind.source)
    }

    /// The source of the threshold that a finding used.
    pub fn finding_source(finding: &Finding) -> Self {
        Self::report(finding.kind, finding.source_text())
    }

    fn report(kind: &'static Kind, text: &str) -> Self {
        Self::words_of(kind.code, text)
    }

    fn words_of(code: &'static str, text: &str) -> Self {
        Self(Part::Report {
            code,
            text: one_line(text),
        })
    }

    /// The formula of a figure, in words.
    pub fn formula(figure: &Figure) -> Self {
        Self(Part::Figure {
            id: figure.id.clone(),
            shown: figure.formula.clone(),
            plain: figure.formula.clone(),
        })
    }

    /// The source of a figure.
    pub fn source(figure: &Figure) -> Self {
        Self(Part::Figure {
            id: figure.id.clone(),
            shown: figure.source.to_string(),
            plain: figure.source.to_string(),
        })
    }

    /// The tag of a piece, hole or cable: a name that begins with a letter, of letters, digits, dots and dashes.
    pub fn tag(name: &str) -> Self {
        let starts = name.chars().next().is_some_and(char::is_alphabetic);
        let clean: String = name
            .chars()
            .map(|c| {
                if c.is_alphanumeric() || "._-/".contains(c) {
                    c
                } else {
                    '-'
                }
            })
            .collect();
        if starts {
            Self(Part::Tag(clean))
        } else {
            Self(Part::Missing(clean))
        }
    }

    /// Several texts, one space between.
    pub fn joined(parts: impl IntoIterator<Item = Self>) -> Self {
        Self(Part::Joined {
            parts: parts.into_iter().collect(),
            between: " ",
        })
    }

    /// A name and its value, colon between: without it `o1` before `2 ft` reads as 12 ft.
    pub fn named(name: impl Into<Self>, value: impl Into<Self>) -> Self {
        Self(Part::Joined {
            parts: vec![name.into(), value.into()],
            between: ": ",
        })
    }

    /// Several texts, comma between.
    pub fn listed(parts: impl IntoIterator<Item = Self>) -> Self {
        Self(Part::Joined {
            parts: parts.into_iter().collect(),
            between: ", ",
        })
    }

    /// A blank line to write on.
    pub const fn blank() -> Self {
        Self(Part::Blank)
    }

    /// Nothing: an empty cell.
    pub const fn empty() -> Self {
        Self(Part::Empty)
    }

    /// Whether it prints nothing.
    pub const fn is_empty(&self) -> bool {
        matches!(self.0, Part::Empty)
    }

    /// Visits the id of every figure in it.
    pub fn each_figure(&self, visit: &mut dyn FnMut(&str)) {
        match &self.0 {
            Part::Figure { id, .. } => visit(id),
            Part::Phrase(phrase) => phrase.slots.iter().for_each(|(_, t)| t.each_figure(visit)),
            Part::Joined { parts, .. } => parts.iter().for_each(|t| t.each_figure(visit)),
            _ => {}
        }
    }

    /// What a builder left wrong in it: figures that are absent, keys and slots that do not exist.
    pub fn faults(&self, words: &Words, out: &mut Vec<String>) {
        match &self.0 {
            Part::Missing(id) => out.push(format!("nothing named `{id}` to print")),
            Part::Phrase(phrase) => {
                phrase.faults(words, out);
                phrase.slots.iter().for_each(|(_, t)| t.faults(words, out));
            }
            Part::Joined { parts, .. } => parts.iter().for_each(|t| t.faults(words, out)),
            _ => {}
        }
    }

    /// The text in pieces of one kind each, ready to print.
    pub fn runs(&self, words: &Words) -> Vec<Run> {
        let mut out = Vec::new();
        self.lay(words, &mut out);
        out
    }

    /// The text alone.
    pub fn plain(&self, words: &Words) -> String {
        self.runs(words).into_iter().map(|run| run.text).collect()
    }

    /// The text for a list that machines read: a figure as its bare number in its canonical unit.
    pub fn value(&self, words: &Words) -> String {
        match &self.0 {
            Part::Figure { plain, .. } => plain.clone(),
            Part::Blank | Part::Empty => String::new(),
            _ => self.plain(words),
        }
    }

    fn lay(&self, words: &Words, out: &mut Vec<Run>) {
        let mut put = |kind: RunKind, text: &str| {
            out.push(Run {
                kind,
                text: text.to_owned(),
            });
        };
        match &self.0 {
            Part::Figure { id, shown, .. } => put(RunKind::Figure(id.clone()), shown),
            Part::Quote { place, text } => put(RunKind::Quote(place.clone()), text),
            Part::Report { code, text } => put(RunKind::Report(code), text),
            Part::Tag(name) => put(RunKind::Tag, name),
            Part::Blank => put(RunKind::Blank, ""),
            Part::Missing(_) => put(RunKind::Words, words.get("text.missing").unwrap_or("?")),
            Part::Empty => {}
            Part::Phrase(phrase) => phrase.lay(words, out),
            Part::Joined { parts, between } => {
                let mut first = true;
                for part in parts.iter().filter(|part| !part.is_empty()) {
                    if !first {
                        out.push(Run {
                            kind: RunKind::Words,
                            text: (*between).to_owned(),
                        });
                    }
                    first = false;
                    part.lay(words, out);
                }
            }
        }
    }
}

impl Phrase {
    fn faults(&self, words: &Words, out: &mut Vec<String>) {
        let Some(pieces) = words.pieces(self.key) else {
            out.push(format!("no words under `{}`", self.key));
            return;
        };
        for piece in &pieces {
            if let Piece::Slot(name) = piece
                && !self.slots.iter().any(|(slot, _)| slot == name)
            {
                out.push(format!("slot `{name}` of `{}` is not filled", self.key));
            }
        }
        for (slot, _) in &self.slots {
            if !pieces.contains(&Piece::Slot(slot)) {
                out.push(format!("`{}` has no slot `{slot}`", self.key));
            }
        }
    }

    fn lay(&self, words: &Words, out: &mut Vec<Run>) {
        for piece in words.pieces(self.key).unwrap_or_default() {
            match piece {
                Piece::Words(text) => out.push(Run {
                    kind: RunKind::Words,
                    text: text.to_owned(),
                }),
                Piece::Slot(name) => {
                    if let Some((_, text)) = self.slots.iter().find(|(slot, _)| *slot == name) {
                        text.lay(words, out);
                    }
                }
            }
        }
    }
}

/// Where a piece of printed text comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RunKind {
    /// The figure with this id.
    Figure(String),
    /// Words of a spec or catalog, at `file:line`.
    Quote(String),
    /// Words of the table.
    Words,
    /// Words of the finding or rule with this code.
    Report(&'static str),
    /// The tag of a piece.
    Tag,
    /// A blank to write on.
    Blank,
}

impl RunKind {
    /// The word for it in JSON and templates.
    pub const fn word(&self) -> &'static str {
        match self {
            Self::Figure(_) => "figure",
            Self::Quote(_) => "quote",
            Self::Words => "words",
            Self::Report(_) => "report",
            Self::Tag => "tag",
            Self::Blank => "blank",
        }
    }
}

/// A piece of printed text of one kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Run {
    /// Where it comes from.
    pub kind: RunKind,
    /// What is printed.
    pub text: String,
}

/// Breaks and control characters become spaces, and marks that turn the direction of what follows go:
/// a text neither starts a line of its own nor changes how its neighbours read.
fn one_line(text: &str) -> String {
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
    use crate::quantity::Length;

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

    #[test]
    fn figures_print_for_people_and_list_for_machines() {
        let figure = Figure::length("trap.primary.drop", Length::sixteenths(36));
        let text = Text::figure(&figure);
        assert_eq!(text.plain(Words::english()), "2 1/4 in");
        assert_eq!(text.value(Words::english()), "2.25");
    }

    #[test]
    fn builders_mistakes_are_named() {
        let words = Words::parse("a.b = needs {x}\n");
        let mut out = Vec::new();
        Text::from(say("a.c")).faults(&words, &mut out);
        Text::from(say("a.b").with("y", Text::empty())).faults(&words, &mut out);
        Text::of(&Ledger::default(), "no.such").faults(&words, &mut out);
        Text::tag("12").faults(&words, &mut out);
        assert_eq!(out.len(), 5, "{out:?}");
    }

    #[test]
    fn plurals_follow_the_count() {
        let words = Words::parse("e.one = {n} error\ne.many = {n} errors\n");
        let count = |n| {
            let figure = Figure::count("job.errors", n);
            Text::from(plural(say("e.one"), say("e.many"), &figure)).plain(&words)
        };
        assert_eq!(
            [count(0), count(1), count(2)],
            ["0 errors", "1 error", "2 errors"]
        );
    }
}
