//! An opening against the least that a person or a piece asks of its two sides.

use crate::model::Hatch;
use crate::quantity::{Length, fraction_inches, show_length_pair};
use crate::source::{Finding, Kind, Relation};

use super::limit::Limit;
use super::rule::Report;

/// Reports an opening whose shorter side, or else its longer one, is less than asked.
pub(super) fn smaller(
    kind: &'static Kind,
    hatch: &Hatch,
    (short, long): (&Limit<Length>, &Limit<Length>),
    message: String,
    report: &mut Report,
) {
    let (narrow, wide) = hatch.sides();
    let (side, limit) = if narrow.value < short.value {
        (narrow, short)
    } else if wide.value < long.value {
        (wide, long)
    } else {
        return;
    };
    let (found, needed) = show_length_pair(side.value, limit.value);
    report.find(
        limit.mark(
            Finding::new(
                kind,
                side.span,
                message,
                format!(
                    "widen it to at least `{} in x {} in`",
                    fraction_inches(short.value.max(narrow.value), 16),
                    fraction_inches(long.value.max(wide.value), 16)
                ),
            )
            .measured(found, Relation::AtLeast, needed)
            .label(hatch.span, format!("opening `{}`", hatch.name)),
        ),
    );
}
