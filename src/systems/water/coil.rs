//! What the job states of a coil: it counts as what is asked for, and as what flows where no loop reaches the coil.

use crate::figures::{Figure, Ledger};
use crate::model::{Model, WaterCoil};
use crate::quantity::Dimension;
use crate::source::Spanned;
use crate::systems::comfort::gap::{Gap, put};

/// What a coil asks for, as stated.
pub(super) fn asked(coil: &WaterCoil, ledger: &mut Ledger) {
    let mut state = |what: &str, value: Option<Spanned<f64>>, dimension, words: &str| {
        if let Some(value) = value {
            ledger.enter(
                Figure::number(
                    format!("water-coil.{}.{what}", coil.name),
                    value.value,
                    dimension,
                )
                .formula("as the job states it")
                .source("the job")
                .place(value.span, words),
            );
        }
    };
    state("flow-asked", coil.flow, Dimension::WaterFlow, "flow");
    state("water-asked", coil.water, Dimension::Temperature, "water");
}

/// A coil that no loop of a boiler reaches: what is stated counts.
pub(super) fn as_stated(model: &Model, coil: &WaterCoil, ledger: &mut Ledger) {
    for (what, word, value, dimension, name) in [
        (
            "flow",
            "flow",
            coil.flow,
            Dimension::WaterFlow,
            "the flow of the coil's water",
        ),
        (
            "entering-water",
            "water",
            coil.water,
            Dimension::Temperature,
            "the temperature of the coil's water",
        ),
    ] {
        let id = format!("water-coil.{}.{what}", coil.name);
        let gap = if model.is_open(coil.span, word) {
            Gap::because(format!("{name} is not known yet"))
        } else {
            Gap::because(format!("{name} is not given"))
        };
        let figure = value
            .map(|value| Figure::number(id.clone(), value.value, dimension))
            .ok_or(&gap);
        put(ledger, id.clone(), figure, |figure| {
            figure
                .formula("as the job states it: no loop of a boiler reaches the coil")
                .source("the job")
                .place(value.map_or(coil.span, |value| value.span), name)
        });
    }
}
