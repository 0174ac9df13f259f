//! A threshold with where it comes from: the shop's standards, the catalog, or the rule's own default.

use crate::catalog::Stated;
use crate::quantity::{Dimension, Length, Quantity, Slope};
use crate::source::{Finding, Kind, Relation, Severity, Span};

use super::engine::Loosened;
use super::rule::{Job, Report};

/// A threshold in force.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit<T> {
    /// The value.
    pub value: T,
    /// Whose it is, as reports print it.
    pub source: String,
    /// Where it is written, when it is.
    pub span: Option<Span>,
    /// Severity that its source carries: what a catalog or code says is an error, common practice a warning.
    pub severity: Severity,
}

impl<T> Limit<T> {
    /// A limit that the catalog states for the equipment.
    pub fn of_catalog(value: T, span: Span) -> Self {
        Self {
            value,
            source: "the equipment's catalog".to_owned(),
            span: Some(span),
            severity: Severity::Error,
        }
    }

    /// The catalog's value where it states one, else `own`; none where it is missing or misread,
    /// which has been reported.
    pub fn stated_or(stated: &Stated<T>, own: Self) -> Option<Self>
    where
        T: Clone,
    {
        match stated.reason() {
            None => stated
                .get()
                .map(|value| Self::of_catalog(value, stated.span)),
            Some("the maker does not say") => Some(own),
            Some(_) => None,
        }
    }

    /// Marks a finding with whose threshold it is: severity, source, and the place where it is written.
    pub fn mark(&self, finding: Finding) -> Finding {
        let finding = finding.severity(self.severity).source(self.source.clone());
        match self.span {
            Some(span) => finding.label(span, format!("asked for by {}", self.source)),
            None => finding,
        }
    }

    /// A rule's own default.
    pub fn default_of(value: T, source: &str, severity: Severity) -> Self {
        Self {
            value,
            source: source.to_owned(),
            span: None,
            severity,
        }
    }
}

/// A value that a threshold can have.
pub trait Threshold: Copy + PartialOrd {
    /// From what standards say.
    fn from_quantity(quantity: &Quantity) -> Option<Self>;
}

impl Threshold for Length {
    fn from_quantity(quantity: &Quantity) -> Option<Self> {
        quantity.length()
    }
}

impl Threshold for f64 {
    fn from_quantity(quantity: &Quantity) -> Option<Self> {
        Some(quantity.real())
    }
}

impl Threshold for Slope {
    fn from_quantity(quantity: &Quantity) -> Option<Self> {
        quantity.slope()
    }
}

impl Job<'_> {
    /// The threshold `name` of a rule, in `dimension`: the shop's standard where it sets one, else `own`.
    /// A shop's value looser than the rule's own is noted for the packet.
    pub fn limit<T: Threshold>(
        &self,
        kind: &'static Kind,
        (name, dimension): (&str, Dimension),
        relation: Relation,
        own: Limit<T>,
        report: &mut Report,
    ) -> Limit<T> {
        let Some(set) = self.standards.threshold(kind.code, kind.name, name) else {
            return own;
        };
        let Some(quantity) = set.quantity(name, dimension, &mut report.findings) else {
            return own;
        };
        let Some(value) = T::from_quantity(&quantity) else {
            return own;
        };
        let looser = match relation {
            Relation::AtMost => value > own.value,
            _ => value < own.value,
        };
        if looser {
            let what = format!("{}: `{name}` is looser than {}", kind.title, own.source);
            let loosened = Loosened {
                code: kind.code,
                what,
                span: set.span,
            };
            if !report.loosened.contains(&loosened) {
                report.loosened.push(loosened);
            }
        }
        Limit {
            value,
            source: "the shop's standards".to_owned(),
            span: Some(set.span),
            severity: own.severity,
        }
    }
}
