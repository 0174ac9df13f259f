//! Thermostats, and the rooms that they feel.

use crate::language::Entry;
use crate::source::{Span, Spanned};

use super::builder::Builder;
use super::equipment::{Equipment, model_of};

/// A thermostat.
#[derive(Clone, Debug)]
pub struct Thermostat {
    /// Its name.
    pub name: String,
    /// The room that it feels.
    pub room: Spanned<String>,
    /// Its model.
    pub model: Option<Spanned<String>>,
    /// Its head.
    pub span: Span,
}

pub(super) fn thermostat(builder: &mut Builder<'_>, entry: &Entry) {
    let Some(name) = entry.text("name").known() else {
        return;
    };
    if !builder.enter("thermostat", &name) {
        return;
    }
    let Some(room) = entry.text("room").known() else {
        return;
    };
    builder.expect(&["room"], &room);
    let model = model_of(builder, entry);
    let shelf = &builder.catalog.thermostats;
    let sheet = model
        .as_ref()
        .and_then(|model| builder.sheet("thermostat", shelf, model))
        .map(|sheet| sheet.control.clone());
    builder.model.equipment.insert(
        name.value.clone(),
        Equipment {
            kind: "thermostat",
            name: name.value.clone(),
            model: model.clone(),
            story: None,
            point: None,
            terminals: sheet,
            span: entry.span,
            whole: entry.whole,
            flawed: entry.flawed || entry.body_flawed,
        },
    );
    builder.model.thermostats.insert(
        name.value.clone(),
        Thermostat {
            name: name.value,
            room,
            model,
            span: entry.span,
        },
    );
}
