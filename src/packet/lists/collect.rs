//! Collects the lists. Every list is written, so that whoever reads them finds each file, if only with its head.

use crate::packet::pages::PageSource;
use crate::packet::set::{HOLES, List, ORDER, OUTLETS, PIECES, READINGS, WIRES};

/// All lists of a job.
pub fn lists(_source: &PageSource<'_>) -> Vec<List> {
    vec![
        List::new(&PIECES),
        List::new(&HOLES),
        List::new(&WIRES),
        List::new(&ORDER),
        List::new(&OUTLETS),
        List::new(&READINGS),
    ]
}
