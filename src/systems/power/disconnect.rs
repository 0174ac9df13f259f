//! What a disconnect is rated, what it has to carry, and how far it stands.

use crate::figures::{Figure, Ledger};
use crate::model::{Circuit, Disconnect, Model};
use crate::quantity::Dimension;

use super::code::{edition_of, nec};
use super::given::given;

/// Enters what a disconnect is rated, what it has to carry, and how far it stands.
pub(super) fn enter_disconnect(model: &Model, disconnect: &Disconnect, ledger: &mut Ledger) {
    let id = |what: &str| format!("disconnect.{}.{what}", disconnect.name);
    let rating = (disconnect.rating, Dimension::Current);
    given(
        ledger,
        id("rating"),
        rating,
        "rating of the disconnect, as given",
        "rating",
    );
    if let Some(distance) = disconnect.distance {
        ledger.enter(
            Figure::length(id("distance"), distance.value)
                .formula("distance from the unit, as given")
                .place(distance.span, "distance"),
        );
    }
    let circuits: Vec<&Circuit> = model
        .circuits
        .values()
        .filter(|circuit| circuit.serves(&disconnect.unit.value))
        .collect();
    let [circuit] = circuits.as_slice() else {
        return;
    };
    let inputs: Vec<(String, f64)> = ["breaker", "least-ampacity"]
        .iter()
        .filter_map(|what| {
            let input = format!("circuit.{}.{what}", circuit.name);
            ledger.real(&input).map(|value| (input, value))
        })
        .collect();
    let most = inputs
        .iter()
        .map(|(_, value)| *value)
        .max_by(f64::total_cmp);
    let Some(most) = most else { return };
    let mut figure = Figure::number(id("rating-needed"), most, Dimension::Current)
        .formula("the greater of the breaker and the plate's minimum circuit ampacity")
        .source(nec(edition_of(model), ["110.3(B), 440.12(A)"; 3]));
    for (input, _) in inputs {
        figure = figure.input(input);
    }
    ledger.enter(figure);
}
