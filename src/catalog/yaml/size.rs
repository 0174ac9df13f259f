//! How much a catalog may hold: what stands behind an alias counts at each use.

use crate::catalog::node::{Node, Value};
use crate::source::Span;

use super::stopped::{SPLIT, Stopped};

/// Values in a file, those behind aliases counted at each use: a file of that size is already a mistake.
const MOST_VALUES: usize = 100_000;

/// Bytes of words, counted likewise: a long word behind an alias fills the memory as well as many short ones.
const MOST_BYTES: usize = 4_000_000;

/// How much a value holds.
#[derive(Clone, Copy, Default)]
pub(super) struct Size {
    pub(super) values: usize,
    pub(super) bytes: usize,
}

impl Size {
    fn plus(self, other: Self) -> Self {
        Self {
            values: self.values.saturating_add(other.values),
            bytes: self.bytes.saturating_add(other.bytes),
        }
    }

    pub(super) fn of(node: &Node) -> Self {
        let own = Self {
            values: 1,
            bytes: 0,
        };
        match &node.value {
            Value::Nothing => own,
            Value::Words(words) => Self {
                bytes: words.len(),
                ..own
            },
            Value::List(items) => items.iter().map(Self::of).fold(own, Self::plus),
            Value::Map(entries) => entries
                .iter()
                .map(|(key, value)| {
                    let key = Self {
                        values: 1,
                        bytes: key.value.len(),
                    };
                    key.plus(Self::of(value))
                })
                .fold(own, Self::plus),
        }
    }

    /// Adds what was read at a place; stops where a file holds more than it may.
    pub(super) fn count(&mut self, more: Self, at: Span) -> Result<(), Stopped> {
        *self = self.plus(more);
        if self.bytes > MOST_BYTES {
            return Err(Stopped::new(
                at,
                format!(
                    "more than {MOST_BYTES} letters stand in one file, aliases counted at each use"
                ),
                SPLIT,
            ));
        }
        if self.values <= MOST_VALUES {
            return Ok(());
        }
        Err(Stopped::new(
            at,
            format!(
                "more than {MOST_VALUES} values stand in one file, aliases counted at each use"
            ),
            SPLIT,
        ))
    }
}
