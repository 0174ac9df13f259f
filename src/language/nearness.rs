//! How far two words lie apart, and how a word is spoken of.

/// Slips of the pen between two words: letters left out, added, changed or swapped; case counts nothing.
pub(crate) fn word_distance(a: &str, b: &str) -> usize {
    let (a, b) = (a.to_lowercase(), b.to_lowercase());
    strsim::osa_distance(&a, &b)
}

/// `a room`, `an air flow`.
pub(crate) fn with_article(words: &str) -> String {
    let vowel = words.starts_with(['a', 'e', 'i', 'o', 'u', 'A', 'E', 'I', 'O', 'U']);
    format!("{} {words}", if vowel { "an" } else { "a" })
}
