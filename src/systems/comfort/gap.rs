//! Why a figure is not there: reported already, or not known.

use crate::figures::{Figure, FigureValue, Input, Ledger};

/// Why there is no value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in crate::systems) enum Gap {
    /// Something was misread, and that is reported: nothing is said.
    Silent,
    /// It is not known, in words.
    Unknown(String),
}

impl Gap {
    pub(in crate::systems) fn because(reason: impl Into<String>) -> Self {
        Self::Unknown(reason.into())
    }
}

/// A figure's number, or why there is none.
pub(in crate::systems) fn known(ledger: &Ledger, id: &str) -> Result<f64, Gap> {
    let figure = ledger.get(id).ok_or(Gap::Silent)?;
    match (figure.real(), ledger.reason(id)) {
        (Some(value), _) => Ok(value),
        (None, Some(reason)) => Err(Gap::because(reason)),
        (None, None) => Err(Gap::Silent),
    }
}

/// Enters the figure, or that it is not known, with `finish` saying formula, inputs and source either way.
pub(in crate::systems) fn put(
    ledger: &mut Ledger,
    id: String,
    value: Result<Figure, &Gap>,
    finish: impl FnOnce(Figure) -> Figure,
) {
    let figure = match value {
        Ok(figure) => figure,
        Err(Gap::Unknown(reason)) => Figure::unknown(id, reason.clone()),
        Err(Gap::Silent) => return,
    };
    let mut figure = finish(figure);
    if matches!(figure.value, FigureValue::Unknown(_)) {
        // What it would have rested on may not be there either.
        figure
            .inputs
            .retain(|input| !matches!(input, Input::Figure(id) if ledger.get(id).is_none()));
    }
    ledger.enter(figure);
}
