//! Circulators in hot-water pipes.

use crate::language::Entry;
use crate::source::{Span, Spanned};

use super::builder::Builder;

/// A circulator.
#[derive(Clone, Debug)]
pub struct Circulator {
    /// Its name.
    pub name: String,
    /// The pipe that it stands in.
    pub pipe: Spanned<String>,
    /// Its model.
    pub model: Option<Spanned<String>>,
    /// The relay whose contact starts it.
    pub relay: Option<Spanned<String>>,
    /// Its head.
    pub span: Span,
}

pub(super) fn circulator(builder: &mut Builder<'_>, entry: &Entry) -> Option<Circulator> {
    let (name, pipe) = (entry.text("name").known()?, entry.text("pipe").known()?);
    Some(Circulator {
        name: name.value,
        pipe,
        model: entry.child("model").and_then(|c| c.text("model").known()),
        relay: entry
            .child("started")
            .and_then(|c| c.text("relay").known())
            .filter(|relay| builder.expect(&["relay"], relay)),
        span: entry.span,
    })
}
