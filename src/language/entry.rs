//! What a read line holds: its word, the values in its slots, and the entries of its block.

use crate::quantity::{Length, Quantity};
use crate::source::{Span, Spanned};

use super::Word;

/// Why a value is not there yet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unknown {
    /// `to measure`
    ToMeasure,
    /// `by others`
    ByOthers,
}

impl Unknown {
    /// The words of the language.
    pub const fn words(self) -> &'static str {
        match self {
            Self::ToMeasure => "to measure",
            Self::ByOthers => "by others",
        }
    }
}

/// A value in a slot.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// An amount.
    Amount(Quantity),
    /// A name, reference, choice or label.
    Word(String),
    /// The inside of a quoted text.
    Text(String),
    /// A date as written.
    Date(String),
    /// Not known yet.
    Unknown(Unknown),
    /// Read, but wrong and already reported: what depends on it stays silent.
    Bad,
}

/// A filled slot.
#[derive(Clone, Debug, PartialEq)]
pub struct Field {
    /// The slot's name in the table.
    pub slot: &'static str,
    /// What stands there, and where.
    pub value: Spanned<Value>,
}

/// What asking an entry for a value gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Asked<T> {
    /// It is there.
    Known(Spanned<T>),
    /// It is said to be unknown yet, here.
    Open(Spanned<Unknown>),
    /// It was wrong and has been reported.
    Bad,
    /// It is not given.
    Absent,
}

impl<T> Asked<T> {
    /// The value, if known.
    pub fn known(self) -> Option<Spanned<T>> {
        match self {
            Self::Known(value) => Some(value),
            _ => None,
        }
    }
}

/// One entry: a word of the table, its values, and its block.
#[derive(Clone, Debug)]
pub struct Entry {
    /// The word's row in the table.
    pub word: &'static Word,
    /// The word itself.
    pub word_span: Span,
    /// From the word to the last value (without the block).
    pub span: Span,
    /// From the word to the block's end.
    pub whole: Span,
    /// Values, in the order written.
    pub fields: Vec<Field>,
    /// The block's entries, in the order written.
    pub body: Vec<Entry>,
    /// Whether part of the entry was wrong and has been reported.
    pub flawed: bool,
    /// Whether part of its block was wrong and has been reported: a word it lacks may be the one misread.
    pub body_flawed: bool,
}

impl Entry {
    /// The first value in `slot`.
    pub fn field(&self, slot: &str) -> Option<&Spanned<Value>> {
        self.fields
            .iter()
            .find(|field| field.slot == slot)
            .map(|field| &field.value)
    }

    /// All values in `slot`.
    pub fn fields<'a>(&'a self, slot: &'a str) -> impl Iterator<Item = &'a Spanned<Value>> {
        self.fields
            .iter()
            .filter(move |field| field.slot == slot)
            .map(|field| &field.value)
    }

    /// Whether `slot` is filled.
    pub fn has(&self, slot: &str) -> bool {
        self.field(slot).is_some()
    }

    fn ask<T>(&self, slot: &str, take: impl Fn(&Value) -> Option<T>) -> Asked<T> {
        match self.field(slot) {
            None if self.flawed => Asked::Bad,
            None => Asked::Absent,
            Some(found) => match (&found.value, take(&found.value)) {
                (_, Some(value)) => Asked::Known(Spanned::new(value, found.span)),
                (Value::Unknown(unknown), None) => Asked::Open(Spanned::new(*unknown, found.span)),
                _ => Asked::Bad,
            },
        }
    }

    /// The amount in `slot`.
    pub fn amount(&self, slot: &str) -> Asked<Quantity> {
        self.ask(slot, |value| match value {
            Value::Amount(quantity) => Some(*quantity),
            _ => None,
        })
    }

    /// The exact length in `slot`.
    pub fn length(&self, slot: &str) -> Asked<Length> {
        self.ask(slot, |value| match value {
            Value::Amount(quantity) => quantity.length(),
            _ => None,
        })
    }

    /// The number in `slot`, in its canonical unit.
    pub fn real(&self, slot: &str) -> Asked<f64> {
        self.ask(slot, |value| match value {
            Value::Amount(quantity) => Some(quantity.real()),
            _ => None,
        })
    }

    /// The word, text or date in `slot`.
    pub fn text(&self, slot: &str) -> Asked<String> {
        self.ask(slot, |value| match value {
            Value::Word(text) | Value::Text(text) | Value::Date(text) => Some(text.clone()),
            _ => None,
        })
    }

    /// The first entry of the block with `word`.
    pub fn child(&self, word: &str) -> Option<&Self> {
        self.body.iter().find(|entry| entry.word.word == word)
    }

    /// All entries of the block with `word`.
    pub fn children<'a>(&'a self, word: &'a str) -> impl Iterator<Item = &'a Self> {
        self.body
            .iter()
            .filter(move |entry| entry.word.word == word)
    }
}
