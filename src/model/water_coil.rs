//! Hot-water coils in air handlers.

use crate::language::Entry;
use crate::source::{Span, Spanned};

use super::builder::Builder;

/// A hot-water coil in an air handler.
#[derive(Clone, Debug)]
pub struct WaterCoil {
    /// Its name.
    pub name: String,
    /// The unit that it stands in.
    pub unit: Spanned<String>,
    /// Its model.
    pub model: Option<Spanned<String>>,
    /// The water that is asked for, °F.
    pub water: Option<Spanned<f64>>,
    /// The flow that is asked for, gpm.
    pub flow: Option<Spanned<f64>>,
    /// Propylene glycol in the water, % by mass.
    pub glycol: Option<Spanned<f64>>,
    /// Whether the job says a share of glycol, known yet or not.
    pub glycol_said: bool,
    /// What keeps its water from freezing.
    pub freeze_protection: Option<Spanned<String>>,
    /// Its head.
    pub span: Span,
    /// Its whole block.
    pub whole: Span,
    /// Whether part of it was misread.
    pub flawed: bool,
}

pub(super) fn coil(builder: &mut Builder<'_>, entry: &Entry) -> Option<WaterCoil> {
    let name = entry.text("name").known()?;
    let unit = entry.text("unit").known()?;
    let mut real = |word: &str, slot: &str| {
        let child = entry.child(word)?;
        builder.real(child, slot)
    };
    Some(WaterCoil {
        name: name.value,
        unit,
        water: real("water", "temperature"),
        flow: real("flow", "flow"),
        glycol: real("glycol", "share"),
        glycol_said: entry.child("glycol").is_some(),
        model: entry.child("model").and_then(|c| c.text("model").known()),
        freeze_protection: entry
            .child("freeze-protection")
            .and_then(|c| c.text("how").known()),
        span: entry.span,
        whole: entry.whole,
        flawed: entry.flawed || entry.body_flawed,
    })
}
