//! Collects the lists. Every list is written, so that whoever reads them finds each file, if only with its head.

use super::holes::holes;
use super::outlets::outlets;
use crate::packet::pages::PageSource;
use crate::packet::set::{List, ORDER, PIECES, READINGS, WIRES};

/// All lists of a job.
pub fn lists(source: &PageSource<'_>) -> Vec<List> {
    vec![
        List::new(&PIECES),
        holes(source),
        List::new(&WIRES),
        List::new(&ORDER),
        outlets(source),
        List::new(&READINGS),
    ]
}
