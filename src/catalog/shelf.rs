//! Named things: models and pieces of stock on a shelf, or the taps and terminals of one model.

use std::borrow::Cow;
use std::ops::Deref;

use foldhash::fast::RandomState;
use indexmap::IndexMap;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::node::{Node, Value};
use super::reading::{FIELD_TWICE, Field, Reading, nearest};
use crate::source::{Finding, Kind, Severity, Span, Why};

/// Two models of one name.
pub(super) const DUPLICATE_MODEL: Kind = Kind {
    code: "CAT008",
    name: "duplicate_model",
    title: "a model or piece of stock is described twice",
    severity: Severity::Error,
    source: "common practice",
    why: Why {
        checks: "That a name stands for one thing in all the catalogs that a job uses.",
        on_site: "The packet is made from the one, the supplier sends the other.",
        fix: "Rename one of the two, or take one out; the first one counts until then.",
    },
};

/// A thing that knows the key it stands under.
pub trait Placed {
    /// The place of its name.
    fn span(&self) -> Span;
}

/// Named parts of one model: taps, terminals, settings. Has to be there.
#[derive(Clone, Debug)]
pub struct Named<T>(IndexMap<String, T, RandomState>);

/// Everything of one sort that the catalogs hold, by name. May be left out.
#[derive(Clone, Debug)]
pub struct Shelf<T>(IndexMap<String, T, RandomState>);

macro_rules! map {
    ($name:ident, $required:literal, $kind:expr, $what:literal) => {
        impl<T> Default for $name<T> {
            fn default() -> Self {
                Self(IndexMap::default())
            }
        }

        impl<T> Deref for $name<T> {
            type Target = IndexMap<String, T, RandomState>;
            fn deref(&self) -> &Self::Target {
                &self.0
            }
        }

        impl<T> $name<T> {
            /// The known name nearest to `word`.
            pub fn nearest(&self, word: &str) -> Option<&str> {
                nearest(self.0.keys().map(String::as_str), word)
            }
        }

        impl<T: Field + Placed> Field for $name<T> {
            const REQUIRED: bool = $required;

            fn read(node: &Node, reading: &mut Reading<'_>) -> Self {
                let mut map = IndexMap::default();
                if node.silent() {
                    return Self(map);
                }
                let Value::Map(entries) = &node.value else {
                    reading.wrong_shape(
                        node,
                        $what,
                        "write each name on a line of its own with a colon, and its fields below it",
                    );
                    return Self(map);
                };
                for (key, value) in entries {
                    let item = T::read(value, reading);
                    if let Some(first) = map.get(&key.value).map(Placed::span) {
                        let finding = twice(&$kind, key.span, &key.value, first);
                        reading.report(value.via, finding);
                    } else {
                        map.insert(key.value.clone(), item);
                    }
                }
                Self(map)
            }

            fn absent(_: Span) -> Self {
                Self(IndexMap::default())
            }
        }

        impl<T: JsonSchema> JsonSchema for $name<T> {
            fn schema_name() -> Cow<'static, str> {
                format!("{}_{}", stringify!($name), T::schema_name()).into()
            }

            fn inline_schema() -> bool {
                true
            }

            fn json_schema(generator: &mut SchemaGenerator) -> Schema {
                let item = generator.subschema_for::<T>();
                json_schema!({ "type": "object", "additionalProperties": item })
            }
        }
    };
}

map!(Named, true, FIELD_TWICE, "named parts");
map!(Shelf, false, DUPLICATE_MODEL, "names with their fields");

fn twice(kind: &'static Kind, at: Span, name: &str, first: Span) -> Finding {
    Finding::new(
        kind,
        at,
        format!("`{name}` is described twice"),
        "rename one of the two, or take one out",
    )
    .label(first, "first described here")
}

impl<T: Placed + Clone> Shelf<T> {
    /// Adds what `other` holds; a name known already is a finding, and the first keeps it.
    pub(super) fn merge(&mut self, other: &Self, findings: &mut Vec<Finding>) {
        for (name, item) in &other.0 {
            match self.0.get(name) {
                Some(first) if first.span() == item.span() => {}
                Some(first) => {
                    findings.push(twice(&DUPLICATE_MODEL, item.span(), name, first.span()));
                }
                None => {
                    self.0.insert(name.clone(), item.clone());
                }
            }
        }
    }
}
