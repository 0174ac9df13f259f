//! Why reading of a catalog stopped.

use std::borrow::Cow;

use crate::source::Span;

/// Why reading stopped, and where.
pub(super) struct Stopped {
    pub(super) words: Cow<'static, str>,
    pub(super) at: Span,
    pub(super) help: &'static str,
}

impl Stopped {
    pub(super) fn new(at: Span, words: impl Into<Cow<'static, str>>, help: &'static str) -> Self {
        Self {
            words: words.into(),
            at,
            help,
        }
    }
}

/// Help where a quote, a list or a mapping is not closed.
pub(super) const CLOSE_WHAT_IS_OPEN: &str = "close what is open on this line or the one above, and indent with spaces as the neighbouring lines do";

/// Help where a file holds too much.
pub(super) const SPLIT: &str = "split the catalog into files, one for a family";
