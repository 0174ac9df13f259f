//! Condensate pumps with the tubes that they lift through.

use crate::language::Entry;
use crate::quantity::Length;
use crate::source::{Span, Spanned};

use super::builder::Builder;
use super::drain::{Ending, ending};
use super::place::Point;

/// A condensate pump.
#[derive(Clone, Debug)]
pub struct Pump {
    /// Its name.
    pub name: String,
    /// Its model.
    pub model: Option<Spanned<String>>,
    /// Its story.
    pub story: Option<String>,
    /// Its middle, at its base.
    pub point: Option<Point>,
    /// From its base to the highest point of its tube.
    pub lift: Option<Spanned<Length>>,
    /// Its tube.
    pub pipe: Option<Spanned<String>>,
    /// The whole length of its tube.
    pub measured: Option<Spanned<Length>>,
    /// Right-angle bends in its tube.
    pub bends: Option<Spanned<f64>>,
    /// The words of a check valve beside the pump's own.
    pub check_valve: Option<Span>,
    /// What keeps its water from freezing, where said.
    pub freeze: Option<Spanned<String>>,
    /// Where its tube ends.
    pub ending: Option<Ending>,
    /// Its head.
    pub span: Span,
    /// Its whole block.
    pub whole: Span,
    /// Whether part of it was misread.
    pub flawed: bool,
}

/// All pumps; their names are entered with those of all equipment.
pub(super) fn pumps(builder: &mut Builder<'_>, entries: &[Entry]) {
    for entry in entries.iter().filter(|entry| entry.word.word == "pump") {
        let Some(name) = entry.text("name").known() else {
            continue;
        };
        // Place and story are those of the equipment of that name.
        let placed = builder.model.equipment.get(&name.value);
        let (story, point) =
            placed.map_or((None, None), |placed| (placed.story.clone(), placed.point));
        let pump = Pump {
            name: name.value,
            model: entry
                .child("model")
                .and_then(|child| child.text("model").known()),
            story,
            point,
            lift: entry.child("lift").and_then(|c| builder.length(c, "lift")),
            pipe: entry.child("pipe").and_then(|c| builder.text(c, "pipe")),
            measured: entry
                .child("measured")
                .and_then(|c| builder.size(c, "length")),
            bends: entry.child("bends").and_then(|c| builder.real(c, "bends")),
            check_valve: entry.child("check-valve").map(|child| child.span),
            freeze: entry
                .child("freeze-protection")
                .and_then(|child| builder.text(child, "how")),
            ending: entry.child("discharge").and_then(|c| ending(builder, c)),
            span: entry.span,
            whole: entry.whole,
            flawed: entry.flawed || entry.body_flawed,
        };
        builder.model.pumps.entry(pump.name.clone()).or_insert(pump);
    }
}
