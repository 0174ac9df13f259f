//! Boilers and water heaters that heat the house.

use crate::language::Entry;
use crate::source::{Span, Spanned};

use super::builder::Builder;

/// A boiler, or a water heater that heats the house.
#[derive(Clone, Debug)]
pub struct Boiler {
    /// Its name.
    pub name: String,
    /// Its model.
    pub model: Option<Spanned<String>>,
    /// Its water at winter design, °F.
    pub water: Option<Spanned<f64>>,
    /// Whether the job says that temperature, known yet or not.
    pub water_said: bool,
    /// What sort it is.
    pub kind: Option<Spanned<String>>,
    /// Cold fill, psi on its gauge.
    pub fill: Option<Spanned<f64>>,
    /// Opening of its relief valve, psi.
    pub relief: Option<Spanned<f64>>,
    /// Where it says that its fill line has a backflow preventer.
    pub backflow_preventer: Option<Span>,
    /// Where it says that a mixing valve holds the taps.
    pub mixing_valve: Option<Span>,
    /// Where it says that an air separator stands where the water leaves it.
    pub air_separator: Option<Span>,
    /// Its head.
    pub span: Span,
    /// Its whole block.
    pub whole: Span,
    /// Whether part of it was misread.
    pub flawed: bool,
}

pub(super) fn boiler(builder: &mut Builder<'_>, entry: &Entry) -> Option<Boiler> {
    let name = entry.text("name").known()?;
    let mut real = |word: &str, slot: &str| {
        let child = entry.child(word)?;
        builder.real(child, slot)
    };
    Some(Boiler {
        name: name.value,
        water: real("water", "temperature"),
        fill: real("fill", "pressure"),
        relief: real("relief", "pressure"),
        water_said: entry.child("water").is_some(),
        model: entry.child("model").and_then(|c| c.text("model").known()),
        kind: entry.child("kind").and_then(|c| c.text("kind").known()),
        backflow_preventer: entry.child("backflow-preventer").map(|c| c.span),
        mixing_valve: entry.child("mixing-valve").map(|c| c.span),
        air_separator: entry.child("air-separator").map(|c| c.span),
        span: entry.span,
        whole: entry.whole,
        flawed: entry.flawed || entry.body_flawed,
    })
}
