//! Collects the lists. Every list is written, so that whoever reads them finds each file, if only with its head.

use super::holes::holes;
use super::outlets::outlets;
use super::{order, pieces, readings, wires};
use crate::packet::pages::PageSource;
use crate::packet::set::List;

/// All lists of a job.
pub fn lists(source: &PageSource<'_>) -> Vec<List> {
    vec![
        pieces::rows(source),
        holes(source),
        wires::rows(source),
        order::rows(source),
        outlets(source),
        readings::rows(source),
    ]
}
