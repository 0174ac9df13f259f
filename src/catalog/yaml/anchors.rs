//! What the anchors of a catalog stand on, and the values behind aliases.

use crate::catalog::node::{Node, Value};
use crate::source::Span;

use super::stopped::{SPLIT, Stopped};

/// Anchors in a file, each looked for at every alias.
const MOST_ANCHORS: usize = 2_000;

/// What an `&anchor` stands on.
struct Anchored {
    id: usize,
    /// Nothing as long as the value is still being read.
    node: Option<Node>,
}

/// The anchors of a file, in the order in which they open.
#[derive(Default)]
pub(super) struct Anchors(Vec<Anchored>);

impl Anchors {
    /// Notes an anchor whose value begins here.
    pub(super) fn open(&mut self, id: usize, at: Span) -> Result<(), Stopped> {
        if id != 0 && self.0.last().is_none_or(|last| last.id < id) {
            if self.0.len() >= MOST_ANCHORS {
                return Err(Stopped::new(
                    at,
                    format!("more than {MOST_ANCHORS} anchors stand in one file"),
                    SPLIT,
                ));
            }
            self.0.push(Anchored { id, node: None });
        }
        Ok(())
    }

    /// Keeps the value of an anchor, once it is read.
    pub(super) fn close(&mut self, id: usize, node: &Node) {
        if let Some(open) = self.0.iter_mut().rfind(|one| one.id == id) {
            open.node = Some(node.clone());
        }
    }

    /// The value behind an alias, as it stands at its anchor.
    pub(super) fn get(&self, id: usize, at: Span) -> Result<&Node, Stopped> {
        let known = self.0.iter().rfind(|one| one.id == id);
        known.and_then(|one| one.node.as_ref()).ok_or_else(|| {
            Stopped::new(
                at,
                "this alias stands inside the value that it names",
                "write the inner value out",
            )
        })
    }
}

/// Marks every part of a value as reached through an alias.
pub(super) fn reached_through(node: &mut Node, alias: Span) {
    node.via = Some(alias);
    match &mut node.value {
        Value::Nothing | Value::Words(_) => {}
        Value::List(items) => items
            .iter_mut()
            .for_each(|item| reached_through(item, alias)),
        Value::Map(entries) => entries
            .iter_mut()
            .for_each(|(_, value)| reached_through(value, alias)),
    }
}
