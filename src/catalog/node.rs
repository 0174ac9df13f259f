//! A catalog's text as a tree in which every key and value knows its place.
//!
//! Scalars stay words here; what they mean is asked later, by whoever knows what should stand there.

use super::stated::MAKER_SILENT;
use crate::source::{Span, Spanned};

/// A value of the tree.
#[derive(Clone, Debug)]
pub(super) enum Value {
    /// Nothing after the colon, or `~`.
    Nothing,
    /// Words, with or without quotes.
    Words(String),
    /// `- a` or `[a, b]`.
    List(Vec<Node>),
    /// `key: value` lines, in source order, keys as often as they stand.
    Map(Vec<(Spanned<String>, Node)>),
}

/// A value and where it stands; for lists and mappings, the key they stand under.
#[derive(Clone, Debug)]
pub(super) struct Node {
    /// What stands there.
    pub value: Value,
    /// The place of the words, or of the key over a list or mapping.
    pub span: Span,
    /// The `*alias` through which it was reached, when it was.
    pub via: Option<Span>,
}

impl Node {
    /// Whether the catalog says that the maker says nothing of it.
    pub(super) fn silent(&self) -> bool {
        matches!(&self.value, Value::Words(words) if words.trim() == MAKER_SILENT)
    }
}
