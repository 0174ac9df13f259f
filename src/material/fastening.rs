//! Screws, by what they go into.

use crate::source::Span;

use super::desk::Desk;
use super::need::Sold;

/// Screws in a joint of trunk: at least three, evenly around (IRC M1601.4.1, from memory).
pub(super) const TRUNK_JOINT_SCREWS: usize = 3;

/// Screws that hold a strap or clamp to the framing (common practice).
pub(super) const HANGER_SCREWS: usize = 2;

/// Counts `count` screws for `word`: the fastener whose description holds the word.
pub(super) fn screws(
    desk: &mut Desk<'_>,
    word: &str,
    count: usize,
    what_for: &str,
    place: (Span, String),
) {
    if count == 0 {
        return;
    }
    let found = desk.catalog.fasteners.iter().find(|(_, fastener)| {
        fastener
            .what
            .as_ref()
            .is_some_and(|what| what.contains(word))
    });
    match found {
        Some((name, fastener)) => {
            let sold = Sold::at(fastener.span, Some(&fastener.price), Some(&fastener.pack));
            desk.needs.add(name, sold, count, what_for, Some(place));
        }
        None => {
            let reason = format!("no fastener of the catalog says that it is for {what_for}");
            desk.needs.add_missing(
                &format!("screws for {what_for}"),
                count,
                reason,
                what_for,
                Some(place),
            );
        }
    }
}
