//! How far two words lie apart, for the nearest known one.

/// Slips of the pen between two words: letters left out, added, changed or swapped; case counts nothing.
pub(crate) fn word_distance(a: &str, b: &str) -> usize {
    let (a, b) = (a.to_lowercase(), b.to_lowercase());
    strsim::osa_distance(&a, &b)
}
