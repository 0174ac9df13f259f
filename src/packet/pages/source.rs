//! What pages draw on: the checked job, by reference.

use crate::catalog::{Catalog, Standards};
use crate::figures::Ledger;
use crate::material::Material;
use crate::model::Model;
use crate::rules::{Loosened, NotChecked};
use crate::source::{Files, Finding, Severity};

/// A checked job as pages and lists read it.
#[derive(Clone, Copy, Debug)]
pub struct PageSource<'a> {
    /// The texts it rests on.
    pub files: &'a Files,
    /// The job as it will stand.
    pub model: &'a Model,
    /// Its equipment and stock.
    pub catalog: &'a Catalog,
    /// The shop's thresholds.
    pub standards: &'a Standards,
    /// Everything computed.
    pub ledger: &'a Ledger,
    /// Pieces and lists.
    pub material: &'a Material,
    /// All findings, waived ones among them.
    pub findings: &'a [Finding],
    /// Checks that could not be made.
    pub not_checked: &'a [NotChecked],
    /// What the shop's standards loosened.
    pub loosened: &'a [Loosened],
}

impl PageSource<'_> {
    /// How many errors are left, waived ones apart.
    pub fn errors(&self) -> usize {
        self.findings
            .iter()
            .filter(|finding| finding.waived.is_none() && finding.severity == Severity::Error)
            .count()
    }
}
