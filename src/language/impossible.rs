//! The finding for an amount that cannot be.

use crate::quantity::{Dimension, Length, show_length, show_real};
use crate::source::{Finding, Relation, Scalar, Shown, Span};

use super::mistake::IMPOSSIBLE_AMOUNT;
use super::table::Possible;

/// An amount, in canonical units, that lies outside what is possible.
pub(crate) fn impossible(
    possible: &Possible,
    canonical: f64,
    words: &str,
    span: Span,
    example: &str,
) -> Finding {
    let dimension = possible.dimension;
    let found = if dimension == Dimension::Length {
        show_length(Length::nearest(canonical))
    } else {
        show_real(canonical, dimension)
    };
    let (least, most) = possible.ends();
    Finding::new(
        &IMPOSSIBLE_AMOUNT,
        span,
        format!("`{words}` is no possible {}", possible.what),
        format!("write the true one, as in `{example}`"),
    )
    .measured(
        found,
        Relation::Between,
        Shown {
            value: Scalar::Pair(least, most),
            unit: dimension.unit(),
            text: possible.between(),
        },
    )
}
