//! What may be printed, by type: each text knows which figure, which words of a spec, or which key it is.

use crate::figures::{Figure, FigureValue, Ledger};
use crate::quantity::number_text;

use super::phrase::Phrase;
use super::run::{Run, RunKind};
use super::words::Words;

/// A text that may be printed. Builders can make one only from its origin.
#[derive(Clone, Debug, PartialEq)]
pub struct Text(pub(super) Part);

#[derive(Clone, Debug, PartialEq)]
pub(super) enum Part {
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
            Part::Phrase(phrase) => phrase.texts().for_each(|t| t.each_figure(visit)),
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
                phrase.texts().for_each(|t| t.faults(words, out));
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

    pub(super) fn lay(&self, words: &Words, out: &mut Vec<Run>) {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::packet::text::say;
    use crate::quantity::Length;

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
}
