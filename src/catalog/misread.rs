//! Words that do not mean what their field takes, and the finding for each way of it.

use super::check::ZERO_AMOUNT;
use super::node::Node;
use super::reading::{Reading, choices, key_of, nearest};
use crate::quantity::{Dimension, QuantityError, show_pair};
use crate::source::{Finding, Kind, Relation, Scalar, Severity, Shown, Span, Why};

/// An amount of another dimension than its field.
pub(super) const WRONG_DIMENSION: Kind = Kind {
    code: "CAT004",
    name: "wrong_dimension",
    title: "an amount has another dimension than its field",
    severity: Severity::Error,
    source: "schema `grammar/catalog.schema.json`",
    why: Why {
        checks: "That a weight is a weight and a pressure a pressure.",
        on_site: "A figure in the wrong column of the maker's sheet becomes a wrong breaker or a wrong trap.",
        fix: "Look at the sheet again; the help shows how the field's own unit is written.",
    },
};

/// An amount that cannot be read.
pub(super) const BAD_AMOUNT: Kind = Kind {
    code: "CAT005",
    name: "bad_amount",
    title: "an amount is not readable",
    severity: Severity::Error,
    source: "schema `grammar/catalog.schema.json`",
    why: Why {
        checks: "That an amount is a number with a unit the trade writes.",
        on_site: "The figure is not known, and what depends on it is not checked.",
        fix: "Write the number and its unit the way the help shows.",
    },
};

/// An amount below zero where only a positive one has a sense.
pub(super) const NEGATIVE_AMOUNT: Kind = Kind {
    code: "CAT014",
    name: "negative_amount",
    title: "an amount is below zero",
    severity: Severity::Error,
    source: "common practice",
    why: Why {
        checks: "That lengths, weights, flows, pressures and prices are not below zero. Suction is written as a positive figure.",
        on_site: "A trap sized for a suction with the wrong sign floods the pan.",
        fix: "Write the amount without its sign; the field's name says the direction.",
    },
};

/// A range whose lower end lies above its upper one.
pub(super) const EMPTY_RANGE: Kind = Kind {
    code: "CAT011",
    name: "empty_range",
    title: "a range is empty",
    severity: Severity::Error,
    source: "common practice",
    why: Why {
        checks: "That the first figure of a range is not above the second.",
        on_site: "No job can ever lie within it, so every job would be called wrong.",
        fix: "Swap the two figures, or look them up again.",
    },
};

/// A word outside the list.
pub(super) const UNKNOWN_WORD: Kind = Kind {
    code: "CAT007",
    name: "unknown_word",
    title: "a word is not among those of its field",
    severity: Severity::Error,
    source: "schema `grammar/catalog.schema.json`",
    why: Why {
        checks: "That a choice (a role, a side, a type) is one of the words that have a meaning.",
        on_site: "A terminal without a role is wired by guess; a port without a side is drawn nowhere.",
        fix: "Use one of the words listed.",
    },
};

/// Why words do not mean what they should. Ranges are bytes of the words read.
#[derive(Debug)]
pub enum Misread {
    /// An amount of another dimension, without unit, or none at all.
    Amount(QuantityError, Dimension),
    /// A word outside the list, with the list.
    Word(String, &'static [&'static str]),
    /// Another form than the one shown.
    Form {
        /// What does not fit.
        range: (usize, usize),
        /// What was wanted there.
        wanted: &'static str,
        /// A way to write it.
        example: &'static str,
    },
    /// A range whose lower end lies above its upper one.
    EmptyRange {
        /// What it is a range of.
        dimension: Dimension,
        /// Its first figure, in the canonical unit.
        least: f64,
        /// Its second figure.
        most: f64,
    },
    /// A size of nothing.
    Zero {
        /// The amount.
        range: (usize, usize),
    },
    /// An amount below zero.
    Negative {
        /// The amount.
        range: (usize, usize),
    },
}

impl Misread {
    pub(super) fn word(found: &str, words: &'static [&'static str]) -> Self {
        Self::Word(found.to_owned(), words)
    }
}

/// `an air flow`, `a length`.
fn with_article(name: &str) -> String {
    let vowel = name.starts_with(['a', 'e', 'i', 'o']);
    format!("{} {name}", if vowel { "an" } else { "a" })
}

/// The finding for an amount that does not read; `place` turns a range of `words` into a place.
pub(super) fn amount_finding(
    error: &QuantityError,
    wanted: Dimension,
    words: &str,
    field: &str,
    place: impl Fn(usize, usize) -> Span,
) -> Finding {
    let example = wanted.example();
    match error {
        QuantityError::Dimension { range, found } => {
            let part = words.get(range.0..range.1).unwrap_or(words);
            let (found, needed) = (found.name(), wanted.name());
            Finding::new(
                &WRONG_DIMENSION,
                place(range.0, range.1),
                format!(
                    "`{part}` is {}, and `{field}` takes {}",
                    with_article(found),
                    with_article(needed)
                ),
                format!("write it as `{example}` is written"),
            )
            .measured(Shown::word(found), Relation::Equal, Shown::word(needed))
        }
        QuantityError::NoNumber => Finding::new(
            &BAD_AMOUNT,
            place(0, words.len()),
            format!(
                "`{words}` holds no number where `{field}` takes {}",
                with_article(wanted.name())
            ),
            format!("write an amount such as `{example}`, or `maker does not say`"),
        ),
        QuantityError::NoUnit { range } => Finding::new(
            &BAD_AMOUNT,
            place(range.0, range.1),
            format!(
                "`{}` has no unit",
                words.get(range.0..range.1).unwrap_or(words)
            ),
            format!("add the unit, as in `{example}`"),
        ),
        QuantityError::UnknownUnit { range, nearest } => {
            let unit = words.get(range.0..range.1).unwrap_or(words).trim();
            let at = place(range.0, range.1);
            let finding = Finding::new(
                &BAD_AMOUNT,
                at,
                format!("`{unit}` is not a unit of {}", wanted.name()),
                match nearest {
                    Some(near) => format!("write `{near}`"),
                    None => format!("write it as `{example}` is written"),
                },
            );
            match nearest {
                Some(near) => finding.edit(at, *near),
                None => finding,
            }
        }
        QuantityError::Number { range, what } => Finding::new(
            &BAD_AMOUNT,
            place(range.0, range.1),
            format!(
                "`{}` is not readable: {what}",
                words.get(range.0..range.1).unwrap_or(words)
            ),
            format!("write it as `{example}` is written"),
        ),
    }
}

/// The finding for `words` at `node`.
pub(super) fn misread_finding(
    reading: &Reading<'_>,
    node: &Node,
    words: &str,
    misread: &Misread,
) -> Finding {
    let field = key_of(reading.field);
    match misread {
        Misread::Amount(error, wanted) => {
            amount_finding(error, *wanted, words, &field, |start, end| {
                reading.within(node.span, words, start, end)
            })
        }
        Misread::Word(found, known) => {
            let near = nearest(known.iter().copied(), found);
            let mut finding = Finding::new(
                &UNKNOWN_WORD,
                node.span,
                format!("`{found}` is not a word of `{field}`"),
                match near {
                    Some(near) => format!("write `{near}`"),
                    None => choices(known.iter().copied(), found),
                },
            );
            // A long list helps nobody in a report.
            if known.len() <= 8 {
                let words = known.iter().map(|w| (*w).to_owned()).collect();
                let needed = Shown {
                    value: Scalar::Words(words),
                    unit: None,
                    text: known.join(", "),
                };
                finding = finding.measured(Shown::word(found.clone()), Relation::OneOf, needed);
            }
            match near {
                Some(near) => finding.edit(node.span, near),
                None => finding,
            }
        }
        Misread::Form {
            range,
            wanted,
            example,
        } => Finding::new(
            &BAD_AMOUNT,
            reading.within(node.span, words, range.0, range.1),
            format!("`{words}` is not readable: {wanted}"),
            format!("write it as `{example}`"),
        ),
        Misread::EmptyRange {
            dimension,
            least,
            most,
        } => {
            let (found, needed) = show_pair(*least, *most, *dimension);
            let help = format!("write `{} to {}`", needed.text, found.text);
            Finding::new(
                &EMPTY_RANGE,
                node.span,
                format!("the range of `{field}` is empty: its first figure is the larger one"),
                help,
            )
            .measured(found, Relation::AtMost, needed)
        }
        Misread::Zero { range } => Finding::new(
            &ZERO_AMOUNT,
            reading.within(node.span, words, range.0, range.1),
            format!("a measure of `{field}` is zero"),
            "write the measure of the maker's sheet, or `maker does not say`",
        ),
        Misread::Negative { range } => Finding::new(
            &NEGATIVE_AMOUNT,
            reading.within(node.span, words, range.0, range.1),
            format!("`{field}` is below zero"),
            "write the amount without the minus sign",
        ),
    }
}
