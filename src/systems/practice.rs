//! A value of common practice, or what the shop's standards set in its place.

use crate::catalog::Standards;
use crate::figures::Figure;
use crate::quantity::Dimension;
use crate::source::Span;

/// A value that a figure rests on beside the job and the catalog.
#[derive(Clone, Copy, Debug)]
pub(super) struct Practice {
    pub(super) value: f64,
    /// Where the shop sets it.
    span: Option<Span>,
}

impl Practice {
    /// The shop's threshold `name` of the rule known by `code` and `rule`, else `usual`. A threshold that can't be
    /// read is the rule's to report.
    pub(super) fn of(
        standards: &Standards,
        (code, rule, name): (&str, &str, &str),
        dimension: Dimension,
        usual: f64,
    ) -> Self {
        let set = standards.threshold(code, rule, name);
        let read = set.and_then(|set| {
            let quantity = set.quantity(name, dimension, &mut Vec::new())?;
            Some((quantity.real(), set.span))
        });
        Self {
            value: read.map_or(usual, |(value, _)| value),
            span: read.map(|(_, span)| span),
        }
    }

    /// Whose it is: the shop's, or `usual`.
    pub(super) const fn source(&self, usual: &'static str) -> &'static str {
        match self.span {
            Some(_) => "the shop's standards",
            None => usual,
        }
    }

    /// Adds where it comes from; `words` say what it is.
    pub(super) fn cite(&self, figure: Figure, words: &str) -> Figure {
        match self.span {
            Some(span) => figure.place(span, format!("{words}, the shop's standards")),
            None => figure.standard(format!("{words}, common practice")),
        }
    }
}
