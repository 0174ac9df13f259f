//! Collects the lists. Every list is written, so that whoever reads them finds each file, if only with its head.

use super::holes::holes;
use super::outlets::outlets;
use super::{readings, wires};
use crate::packet::pages::PageSource;
use crate::packet::set::{List, ORDER, PIECES};

/// All lists of a job.
pub fn lists(source: &PageSource<'_>) -> Vec<List> {
    vec![
        List::new(&PIECES),
        holes(source),
        wires::rows(source),
        List::new(&ORDER),
        outlets(source),
        readings::rows(source),
    ]
}
