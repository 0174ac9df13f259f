//! A figure or word of the catalog with its place and its source, or the reason why it is not known.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::amount::{BAD_AMOUNT, EMPTY_RANGE, NEGATIVE_AMOUNT, amount_finding};
use super::check::ZERO_AMOUNT;
use super::node::{Node, Value};
use super::reading::{Field, Fields, Reading, key_of, nearest};
use crate::quantity::{Dimension, QuantityError, show_pair};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

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

/// The words a catalog uses where the maker is silent.
pub const MAKER_SILENT: &str = "maker does not say";

/// Where a figure was read: a sheet, a page, a date.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cite {
    /// The name of the sheet.
    pub sheet: Option<String>,
    /// The page.
    pub page: Option<String>,
    /// The date of the sheet.
    pub date: Option<String>,
}

impl Cite {
    /// `sheet, page 3, 2026-03-01`.
    pub fn text(&self) -> String {
        let page = self.page.as_ref().map(|page| format!("page {page}"));
        let parts: Vec<&str> = [self.sheet.as_deref(), page.as_deref(), self.date.as_deref()]
            .into_iter()
            .flatten()
            .collect();
        parts.join(", ")
    }
}

/// A value as the catalog states it.
#[derive(Clone, Debug)]
pub struct Stated<T> {
    value: Result<T, &'static str>,
    /// The words it was read from, or the key where it is missing.
    pub span: Span,
    /// Sheet, page and date, where given.
    pub cite: Option<Box<Cite>>,
}

impl<T> Stated<T> {
    /// A known value.
    pub const fn known(value: T, span: Span) -> Self {
        Self {
            value: Ok(value),
            span,
            cite: None,
        }
    }

    /// A value that is not known, with the reason.
    pub const fn unknown(reason: &'static str, span: Span) -> Self {
        Self {
            value: Err(reason),
            span,
            cite: None,
        }
    }

    /// The value, if known.
    pub fn as_ref(&self) -> Option<&T> {
        self.value.as_ref().ok()
    }

    /// Why it is not known, if it is not.
    pub fn reason(&self) -> Option<&'static str> {
        self.value.as_ref().err().copied()
    }
}

impl<T: Clone> Stated<T> {
    /// The value, if known.
    pub fn get(&self) -> Option<T> {
        self.as_ref().cloned()
    }
}

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

/// Something written as words.
pub trait Readable: Sized {
    /// Reads all of `text`.
    fn parse(text: &str) -> Result<Self, Misread>;

    /// What it is called in the schema.
    fn name() -> String;

    /// The schema of the words.
    fn schema() -> Schema;
}

fn misread_finding(reading: &Reading<'_>, node: &Node, words: &str, misread: &Misread) -> Finding {
    let field = key_of(reading.field);
    match misread {
        Misread::Amount(error, wanted) => {
            amount_finding(error, *wanted, words, &field, |start, end| {
                reading.within(node.span, words, start, end)
            })
        }
        Misread::Word(found, known) => {
            let near = nearest(known.iter().copied(), found);
            let finding = Finding::new(
                &UNKNOWN_WORD,
                node.span,
                format!("`{found}` is not a word of `{field}`"),
                match near {
                    Some(near) => format!("write `{near}`"),
                    None => format!("use one of: {}", known.join(", ")),
                },
            )
            .measured(
                Shown::word(found.clone()),
                Relation::OneOf,
                Shown {
                    value: crate::source::Scalar::Words(
                        known.iter().map(|w| (*w).to_owned()).collect(),
                    ),
                    unit: None,
                    text: known.join(", "),
                },
            );
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
            format!("`{words}` is not read as `{field}`: {wanted}"),
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

impl<T: Readable> Stated<T> {
    fn scalar(node: &Node, reading: &mut Reading<'_>) -> Self {
        let Value::Words(words) = &node.value else {
            if matches!(node.value, Value::Nothing) {
                reading.wrong_shape(
                    node,
                    "a value",
                    &format!("write the value after the colon, or `{MAKER_SILENT}`"),
                );
            } else {
                reading.wrong_shape(
                    node,
                    "one value",
                    "write one value on the line, such as `18 in`",
                );
            }
            return Self::unknown("the catalog's value is not readable", node.span);
        };
        if node.silent() {
            return Self::unknown("the maker does not say", node.span);
        }
        match T::parse(words) {
            Ok(value) => Self::known(value, node.span),
            Err(misread) => {
                let finding = misread_finding(reading, node, words, &misread);
                reading.report(node.via, finding);
                Self::unknown("the catalog's value is not readable", node.span)
            }
        }
    }
}

impl<T: Readable> Field for Stated<T> {
    const REQUIRED: bool = true;
    const SINGLE: bool = true;

    fn read(node: &Node, reading: &mut Reading<'_>) -> Self {
        let sourced = matches!(&node.value, Value::Map(entries)
            if entries.iter().any(|(key, _)| key.value == "value"));
        if !sourced {
            return Self::scalar(node, reading);
        }
        let Some(mut fields) = Fields::of(node, "a figure with its source", reading) else {
            return Self::unknown("the catalog's value is not readable", node.span);
        };
        let field = reading.field;
        let mut value = fields.take::<Bare<T>>("value", reading).0;
        let mut word = |name| {
            fields
                .take::<Option<Stated<String>>>(name, reading)
                .and_then(|word| word.get())
        };
        let cite = Cite {
            sheet: word("sheet"),
            page: word("page"),
            date: word("date"),
        };
        fields.finish("a figure with its source", reading);
        reading.field = field;
        value.cite = Some(Box::new(cite));
        value
    }

    fn absent(at: Span) -> Self {
        Self::unknown("the catalog does not give it", at)
    }
}

/// A value without a source of its own.
struct Bare<T>(Stated<T>);

impl<T: Readable> Field for Bare<T> {
    const REQUIRED: bool = true;

    fn read(node: &Node, reading: &mut Reading<'_>) -> Self {
        Self(Stated::scalar(node, reading))
    }

    fn absent(at: Span) -> Self {
        Self(Stated::unknown("the catalog does not give it", at))
    }
}

impl<T: Readable> JsonSchema for Bare<T> {
    fn schema_name() -> Cow<'static, str> {
        "value".into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        T::schema()
    }
}

impl<T: Readable> JsonSchema for Stated<T> {
    fn schema_name() -> Cow<'static, str> {
        T::name().into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let own = T::schema();
        let cite = generator.subschema_for::<Cite>();
        json_schema!({ "anyOf": [
            own,
            { "const": MAKER_SILENT },
            cite,
        ] })
    }
}

impl JsonSchema for Cite {
    fn schema_name() -> Cow<'static, str> {
        "value with its source".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "object",
            "description": "A value with the sheet, page and date it was read from.",
            "properties": {
                "value": { "type": ["string", "number", "boolean"] },
                "sheet": { "type": ["string", "number"] },
                "page": { "type": ["string", "number"] },
                "date": { "type": "string" },
            },
            "required": ["value"],
            "additionalProperties": false,
        })
    }
}

impl<F: Field> Field for Option<F> {
    const REQUIRED: bool = false;
    const SINGLE: bool = F::SINGLE;

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        F::schema(generator)
    }

    fn read(node: &Node, reading: &mut Reading<'_>) -> Self {
        Some(F::read(node, reading))
    }

    fn absent(_: Span) -> Self {
        None
    }
}

impl<F: Field> Field for Vec<F> {
    const REQUIRED: bool = true;

    fn read(node: &Node, reading: &mut Reading<'_>) -> Self {
        if let Value::List(items) = &node.value {
            return items.iter().map(|item| F::read(item, reading)).collect();
        }
        if node.silent() {
            return Vec::new();
        }
        reading.wrong_shape(
            node,
            "a list",
            "write each value on its own line after `- `, or all as `[one, two]`",
        );
        Vec::new()
    }

    fn absent(_: Span) -> Self {
        Vec::new()
    }
}

impl Readable for String {
    fn parse(text: &str) -> Result<Self, Misread> {
        Ok(text.trim().to_owned())
    }

    fn name() -> String {
        "words".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({ "type": ["string", "number"] })
    }
}

impl Readable for bool {
    fn parse(text: &str) -> Result<Self, Misread> {
        match text.trim() {
            "yes" | "true" => Ok(true),
            "no" | "false" => Ok(false),
            other => Err(Misread::word(other, &["yes", "no"])),
        }
    }

    fn name() -> String {
        "yes or no".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({ "anyOf": [{ "type": "boolean" }, { "enum": ["yes", "no"] }] })
    }
}

impl Readable for Severity {
    fn parse(text: &str) -> Result<Self, Misread> {
        Self::from_word(text.trim())
            .ok_or_else(|| Misread::word(text.trim(), &["error", "warning", "advice"]))
    }

    fn name() -> String {
        "severity".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({ "enum": ["error", "warning", "advice"] })
    }
}

impl<T> super::shelf::Placed for Stated<T> {
    fn span(&self) -> Span {
        self.span
    }
}
