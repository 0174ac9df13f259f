//! One computed value and where it comes from.

use std::borrow::Cow;

use crate::quantity::{Dimension, Length, Slope, length_text, show_real};
use crate::source::{Scalar, Shown, Span};

/// The value of a figure.
#[derive(Clone, Debug, PartialEq)]
pub enum FigureValue {
    /// An exact length.
    Length(Length),
    /// An exact slope.
    Slope(Slope),
    /// A number in the canonical unit of its dimension.
    Number(f64, Dimension),
    /// A word of the trade.
    Text(String),
    /// Yes or no.
    Bool(bool),
    /// Not known, and why.
    Unknown(String),
}

/// The id of a figure from its parts. A check puts thousands together, and formatting them takes four times as long.
pub fn figure_id<const N: usize>(parts: [&str; N]) -> String {
    parts.concat()
}

/// What a figure was computed from.
#[derive(Clone, Debug, PartialEq)]
pub enum Input {
    /// Another figure, by id.
    Figure(String),
    /// Words of a spec or catalog, with what they say.
    Place {
        /// Where they stand.
        span: Span,
        /// The words themselves.
        text: String,
    },
    /// A threshold of the shop or a rule's default, in words.
    Standard(String),
}

/// A figure of the ledger.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// `system-or-kind.name.quantity`, lower case, dotted.
    pub id: String,
    /// What it is.
    pub value: FigureValue,
    /// How it was computed, in words.
    pub formula: String,
    /// From what.
    pub inputs: Vec<Input>,
    /// Standard and table, or `common practice`, or `geometry`.
    pub source: Cow<'static, str>,
}

impl Figure {
    fn with(id: impl Into<String>, value: FigureValue) -> Self {
        Self {
            id: id.into(),
            value,
            formula: String::new(),
            inputs: Vec::new(),
            source: Cow::Borrowed("geometry"),
        }
    }

    /// A length.
    pub fn length(id: impl Into<String>, value: Length) -> Self {
        Self::with(id, FigureValue::Length(value))
    }

    /// A slope.
    pub fn slope(id: impl Into<String>, value: Slope) -> Self {
        Self::with(id, FigureValue::Slope(value))
    }

    /// A number in the canonical unit of `dimension`.
    pub fn number(id: impl Into<String>, value: f64, dimension: Dimension) -> Self {
        Self::with(id, FigureValue::Number(value, dimension))
    }

    /// A count.
    pub fn count(id: impl Into<String>, n: usize) -> Self {
        Self::number(id, n as f64, Dimension::Count)
    }

    /// A word.
    pub fn text(id: impl Into<String>, value: impl Into<String>) -> Self {
        Self::with(id, FigureValue::Text(value.into()))
    }

    /// Yes or no.
    pub fn bool(id: impl Into<String>, value: bool) -> Self {
        Self::with(id, FigureValue::Bool(value))
    }

    /// A figure that could not be computed, with the reason.
    pub fn unknown(id: impl Into<String>, reason: impl Into<String>) -> Self {
        Self::with(id, FigureValue::Unknown(reason.into()))
    }

    /// Says how it was computed.
    #[must_use]
    pub fn formula(mut self, words: impl Into<String>) -> Self {
        self.formula = words.into();
        self
    }

    /// Says whose formula or table it is.
    #[must_use]
    pub fn source(mut self, source: impl Into<Cow<'static, str>>) -> Self {
        self.source = source.into();
        self
    }

    /// Adds another figure it was computed from.
    #[must_use]
    pub fn input(mut self, id: impl Into<String>) -> Self {
        self.inputs.push(Input::Figure(id.into()));
        self
    }

    /// Adds words it was read from.
    #[must_use]
    pub fn place(mut self, span: Span, text: impl Into<String>) -> Self {
        self.inputs.push(Input::Place {
            span,
            text: text.into(),
        });
        self
    }

    /// Adds a threshold or default it rests on.
    #[must_use]
    pub fn standard(mut self, words: impl Into<String>) -> Self {
        self.inputs.push(Input::Standard(words.into()));
        self
    }

    /// The places it was read from, in order.
    pub fn places(&self) -> impl Iterator<Item = (Span, &str)> {
        self.inputs.iter().filter_map(|input| match input {
            Input::Place { span, text } => Some((*span, text.as_str())),
            _ => None,
        })
    }

    /// The unit its number is in, as JSON and CSV print it.
    pub const fn unit(&self) -> Option<&'static str> {
        match &self.value {
            FigureValue::Length(_) => Dimension::Length.unit(),
            FigureValue::Slope(_) => Dimension::Slope.unit(),
            FigureValue::Number(_, dimension) => dimension.unit(),
            _ => None,
        }
    }

    /// The number in [`Self::unit`], if it is one.
    pub fn real(&self) -> Option<f64> {
        match &self.value {
            FigureValue::Length(length) => Some(length.to_inches()),
            FigureValue::Slope(slope) => Some(slope.in_per_ft()),
            FigureValue::Number(value, _) => Some(*value),
            _ => None,
        }
    }

    /// As a person reads it.
    pub fn shown(&self) -> Shown {
        match &self.value {
            FigureValue::Length(length) => Shown {
                value: Scalar::Number(length.to_inches()),
                unit: Dimension::Length.unit(),
                text: length_text(*length),
            },
            FigureValue::Slope(slope) => show_real(slope.in_per_ft(), Dimension::Slope),
            FigureValue::Number(value, dimension) => show_real(*value, *dimension),
            FigureValue::Text(text) => Shown::word(text.clone()),
            FigureValue::Bool(yes) => Shown {
                value: Scalar::Bool(*yes),
                unit: None,
                text: if *yes { "yes" } else { "no" }.to_owned(),
            },
            FigureValue::Unknown(reason) => Shown::word(format!("not known: {reason}")),
        }
    }
}
