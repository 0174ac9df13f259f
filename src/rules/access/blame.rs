//! Which of two things that stand too near is at fault: the one that was set there, or the unit beside a part of the house.

use crate::model::AirHandler;
use crate::source::Span;

/// The place of a finding, and the other place with its words. Slopes, ceilings and floors do not move: the unit does.
pub(super) fn blame(unit: &AirHandler, own: Span, words: &str) -> (Span, (Span, String)) {
    if is_of_house(words) {
        (unit.span, (own, quoted(words)))
    } else {
        (own, (unit.span, format!("the unit `{}`", unit.name)))
    }
}

/// Whether the words name a part of the house.
pub(super) fn is_of_house(words: &str) -> bool {
    ["roof plane ", "the ceiling ", "the floor "]
        .iter()
        .any(|start| words.starts_with(start))
}

/// The words of a figure's place with the name, their last word, in backticks.
pub(super) fn quoted(words: &str) -> String {
    match words.rsplit_once(' ') {
        Some((kind, name)) => format!("{kind} `{name}`"),
        None => words.to_owned(),
    }
}
