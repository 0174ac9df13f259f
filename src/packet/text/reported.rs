//! Words of findings, of their rules, and of what could not be checked or was loosened, each under its code.

use crate::rules::{Loosened, NotChecked};
use crate::source::{Finding, Kind};

use super::printed::{Part, Text};
use super::quoted::one_line;

impl Text {
    /// The thing that a check could not be made on.
    pub fn gap_thing(gap: &NotChecked) -> Self {
        Self::words_of(gap.kind_code, &gap.thing)
    }

    /// The title of the check that could not be made.
    pub fn gap_title(gap: &NotChecked) -> Self {
        Self::words_of(gap.kind_code, gap.title)
    }

    /// The code of the check that could not be made.
    pub fn gap_code(gap: &NotChecked) -> Self {
        Self::words_of(gap.kind_code, gap.kind_code)
    }

    /// Why the check could not be made.
    pub fn gap_reason(gap: &NotChecked) -> Self {
        Self::words_of(gap.kind_code, &gap.reason)
    }

    /// What the shop's standards loosened.
    pub fn loosened(loosened: &Loosened) -> Self {
        Self::words_of(loosened.code, &loosened.what)
    }

    /// The code of the rule that the shop's standards loosened.
    pub fn loosened_code(loosened: &Loosened) -> Self {
        Self::words_of(loosened.code, loosened.code)
    }

    /// What a finding says.
    pub fn finding(finding: &Finding) -> Self {
        Self::report(finding.kind, &finding.message)
    }

    /// Found and needed of a finding, as its report prints them.
    pub fn measured(finding: &Finding) -> Option<(Self, &'static str, Self)> {
        let (found, needed) = finding.measured.as_ref()?;
        Some((
            Self::report(finding.kind, &found.text),
            needed.relation.words(),
            Self::report(finding.kind, &needed.shown.text),
        ))
    }

    /// The reason that a waiver gives for a finding.
    pub fn waiver(finding: &Finding) -> Option<Self> {
        let reason = finding.waived.as_ref()?;
        Some(Self::report(finding.kind, reason))
    }

    /// A rule's code.
    pub fn code(kind: &'static Kind) -> Self {
        Self::report(kind, kind.code)
    }

    /// A rule's title.
    pub fn title(kind: &'static Kind) -> Self {
        Self::report(kind, kind.title)
    }

    /// The published source of a rule.
    pub fn rule_source(kind: &'static Kind) -> Self {
        Self::report(kind, kind.source)
    }

    /// The source of the threshold that a finding used.
    pub fn finding_source(finding: &Finding) -> Self {
        Self::report(finding.kind, finding.source_text())
    }

    fn report(kind: &'static Kind, text: &str) -> Self {
        Self::words_of(kind.code, text)
    }

    fn words_of(code: &'static str, text: &str) -> Self {
        Self(Part::Report {
            code,
            text: one_line(text),
        })
    }
}
