//! Words of the table with their slots filled: keys stand in the code, words in `templates/words/`.

use crate::figures::Figure;

use super::printed::Text;
use super::run::{Run, RunKind};
use super::words::{Piece, Words};

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

    /// The texts in its slots.
    pub(super) fn texts(&self) -> impl Iterator<Item = &Text> {
        self.slots.iter().map(|(_, text)| text)
    }

    pub(super) fn faults(&self, words: &Words, out: &mut Vec<String>) {
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

    pub(super) fn lay(&self, words: &Words, out: &mut Vec<Run>) {
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

#[cfg(test)]
mod tests {
    use super::*;

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
