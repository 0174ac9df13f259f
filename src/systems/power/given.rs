//! Ratings and voltages that the job gives: they count as they stand.

use crate::figures::{Figure, Ledger};
use crate::quantity::Dimension;
use crate::source::Spanned;

/// Enters a number as it is given, at its words; nothing where it is not given.
pub(super) fn given(
    ledger: &mut Ledger,
    id: String,
    (number, dimension): (Option<Spanned<f64>>, Dimension),
    formula: &'static str,
    words: &'static str,
) {
    if let Some(number) = number {
        ledger.enter(
            Figure::number(id, number.value, dimension)
                .formula(formula)
                .place(number.span, words),
        );
    }
}
