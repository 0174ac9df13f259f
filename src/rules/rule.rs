//! What a rule is, what it reads, and where it reports.

use crate::catalog::{Catalog, Standards};
use crate::figures::Ledger;
use crate::model::Model;
use crate::source::{Finding, Kind, Span};
use crate::systems::controls::Wiring;

/// A wrong line and the right one, each compiled by a test inside a small house.
#[derive(Clone, Copy, Debug)]
pub struct Example {
    /// A line that the rule reports.
    pub wrong: &'static str,
    /// The line that passes.
    pub right: &'static str,
}

/// A trade rule.
#[derive(Debug)]
pub struct Rule {
    /// Code, name, title, severity, source and reason.
    pub kind: Kind,
    /// Wrong and right.
    pub example: Example,
    /// Reads figures and model and reports; computes nothing that a figure could hold.
    pub check: fn(&Job<'_>, &mut Report),
}

/// What rules read.
#[derive(Clone, Copy, Debug)]
pub struct Job<'a> {
    /// The job as it will stand.
    pub model: &'a Model,
    /// Its figures.
    pub ledger: &'a Ledger,
    /// Its equipment and stock.
    pub catalog: &'a Catalog,
    /// The shop's thresholds.
    pub standards: &'a Standards,
    /// Its control wiring.
    pub wiring: &'a Wiring<'a>,
}

impl Job<'_> {
    /// Whether figure `id` is not known for the reason that a unit's airflow is not, which is said there once.
    pub(super) fn rests_on_airflow(&self, id: &str) -> bool {
        let reason = self.ledger.reason(id);
        reason.is_some()
            && self.model.air_handlers.keys().any(|unit| {
                let airflow = format!("air-handler.{unit}.airflow");
                self.ledger.reason(&airflow) == reason
                    || self.ledger.reason(&format!("{airflow}@winter")) == reason
            })
    }
}

/// A check that could not be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotChecked {
    /// The rule.
    pub kind_code: &'static str,
    /// The rule's title.
    pub title: &'static str,
    /// The thing, in words (`run be1`).
    pub thing: String,
    /// Why it could not.
    pub reason: String,
    /// Where the thing stands.
    pub span: Option<Span>,
}

/// Where rules report.
#[derive(Debug, Default)]
pub struct Report {
    pub(super) findings: Vec<Finding>,
    pub(super) not_checked: Vec<NotChecked>,
    pub(super) loosened: Vec<super::Loosened>,
}

impl Report {
    /// What was found so far.
    pub fn findings(&self) -> &[Finding] {
        &self.findings
    }

    /// Reports a fault.
    pub fn find(&mut self, finding: Finding) {
        self.findings.push(finding);
    }

    /// Says that `thing` could not be checked, and why.
    pub fn not_checked(
        &mut self,
        kind: &'static Kind,
        thing: impl Into<String>,
        reason: impl Into<String>,
        span: Option<Span>,
    ) {
        let (thing, reason) = (thing.into(), reason.into());
        self.not_checked.push(NotChecked {
            kind_code: kind.code,
            title: kind.title,
            thing,
            reason,
            span,
        });
    }

    /// Says that `thing` could not be checked because figure `id` is not known; silent when there is no such
    /// figure, for then something else is reported already.
    pub fn not_known(
        &mut self,
        kind: &'static Kind,
        thing: impl Into<String>,
        (ledger, id): (&Ledger, &str),
        span: Span,
    ) {
        if let Some(reason) = ledger.reason(id) {
            self.not_checked(kind, thing, reason, Some(span));
        }
    }
}
