//! Readings of the start-up record.

use crate::packet::pages::{PageSource, readings};
use crate::packet::set::{List, READINGS};

/// The readings, in the order in which they are taken.
pub(super) fn rows(source: &PageSource<'_>) -> List {
    let mut list = List::new(&READINGS);
    for reading in readings::all(source) {
        list.row([
            reading.what,
            reading.at,
            reading.expected,
            reading.unit,
            reading.least,
            reading.most,
        ]);
    }
    list
}
