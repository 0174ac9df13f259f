//! A figure or word of the catalog with its place and its source, or the reason why it is not known.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::misread::{Misread, misread_finding};
use super::node::{Node, Value};
use super::reading::{Field, Fields, Reading};
use crate::source::{Severity, Span};

/// The words a catalog uses where the maker is silent.
pub const MAKER_SILENT: &str = "maker does not say";

/// Why a value is not known where the maker is silent.
const SILENT: &str = "the maker does not say";

/// Why a value that stands in the catalog and has been reported is not known.
pub const NOT_READABLE: &str = "the catalog's value is not readable";

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

    /// Whether the catalog says that the maker is silent on it.
    pub fn is_silent(&self) -> bool {
        self.reason() == Some(SILENT)
    }
}

impl<T: Clone> Stated<T> {
    /// Part of the value, at the same place.
    pub fn map<U>(&self, part: impl FnOnce(T) -> U) -> Stated<U> {
        Stated {
            value: self.value.clone().map(part),
            span: self.span,
            cite: self.cite.clone(),
        }
    }

    /// The value, if known.
    pub fn get(&self) -> Option<T> {
        self.as_ref().cloned()
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
            return Self::unknown(NOT_READABLE, node.span);
        };
        if node.silent() {
            return Self::unknown(SILENT, node.span);
        }
        match T::parse(words) {
            Ok(value) => Self::known(value, node.span),
            Err(misread) => {
                let finding = misread_finding(reading, node, words, &misread);
                reading.report(node.via, finding);
                Self::unknown(NOT_READABLE, node.span)
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
            return Self::unknown(NOT_READABLE, node.span);
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
