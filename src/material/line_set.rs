//! Refrigerant lines: soft copper, bent on site and cut once for each line from its coil.

use crate::catalog::{PipeMaterial, Stated};
use crate::language::Entry;
use crate::model::Direction;
use crate::quantity::{Dimension, Length, read_all, trade_length};
use crate::source::{Span, Spanned};

use super::desk::{Desk, Draft};
use super::piece::System;
use super::stock::Shelf;

/// All line sets: the suction line, then the liquid line.
pub(super) fn take_off(desk: &mut Desk<'_>) {
    let model = desk.model;
    for entry in model.blocks("line-set") {
        let Some(name) = entry.text("name").known() else {
            continue;
        };
        let length = route_length(desk, entry);
        for line in ["suction", "liquid"] {
            one(desk, entry, &name.value, line, length.clone());
        }
        clamps(desk, entry, &name.value, length);
    }
}

/// Thickness of the insulation that a clamp goes around (common practice: half an inch).
const INSULATION: Length = Length::sixteenths(8);

/// One row of clamps holds both lines, by the support spacing of the suction line.
fn clamps(
    desk: &mut Desk<'_>,
    entry: &Entry,
    name: &str,
    length: Result<(Length, Vec<(Span, String)>), String>,
) {
    let Ok((length, _)) = length else {
        return;
    };
    let suction = entry
        .child("suction")
        .and_then(|child| child.text("size").known())
        .and_then(|size| find(desk, &size).ok())
        .and_then(|item| desk.catalog.pipes.get(&item));
    let Some(pipe) = suction else {
        return;
    };
    if let (Some(outside), Some(spacing)) = (pipe.outside.get(), pipe.support.get()) {
        let words = format!("line-set {name}");
        let place = (entry.span, trade_length(length));
        super::hanger::line(
            desk,
            outside + INSULATION * 2,
            (length, spacing),
            &words,
            place,
        );
    }
}

/// Taped length, else the sum of the legs, with the places it rests on.
pub(super) fn route_length(
    desk: &Desk<'_>,
    entry: &Entry,
) -> Result<(Length, Vec<(Span, String)>), String> {
    if let Some(measured) = entry
        .child("measured")
        .and_then(|child| child.length("length").known())
    {
        let said = format!("measured {}", trade_length(measured.value));
        return Ok((measured.value, vec![(measured.span, said)]));
    }
    let mut sum = Length::ZERO;
    let mut places = Vec::new();
    for leg in entry
        .body
        .iter()
        .filter(|child| Direction::named(child.word.word).is_some())
    {
        let length = leg
            .length("run")
            .known()
            .ok_or_else(|| desk.open_reason(entry.whole, leg.word.word))?;
        sum += length.value;
        let said = format!("{} {}", leg.word.word, trade_length(length.value));
        places.push((leg.span, said));
    }
    if places.is_empty() {
        return Err(desk.open_reason(entry.whole, "measured"));
    }
    Ok((sum, places))
}

fn one(
    desk: &mut Desk<'_>,
    entry: &Entry,
    name: &str,
    line: &'static str,
    length: Result<(Length, Vec<(Span, String)>), String>,
) {
    let size = entry
        .child(line)
        .and_then(|child| child.text("size").known());
    let item = match &size {
        Some(size) => find(desk, size),
        None => Err(desk.open_reason(entry.whole, line)),
    };
    let (places, length) = match length {
        Ok((length, places)) => (places, Ok(length)),
        Err(reason) => (Vec::new(), Err(reason)),
    };
    let (item, length) = match item {
        Ok(item) => (item, length),
        Err(reason) => (
            size.map_or_else(|| format!("{line} line"), |size| size.value),
            Err(reason),
        ),
    };
    let end = |slot: &str| {
        entry
            .text(slot)
            .known()
            .map_or_else(String::new, |end| end.value)
    };
    desk.piece(Draft {
        system: System::LineSet,
        route: format!("{name} {line}"),
        item,
        shelf: Shelf::Pipe,
        length,
        formula: "length of the route".to_owned(),
        places,
        source: "geometry",
        from: end("from"),
        to: end("to"),
        room: None,
        story: None,
        span: entry.span,
        field_cut: false,
        removable: false,
        // Brazed at both ends.
        joints: 2,
    });
}

/// The refrigerant tube of an outside diameter.
fn find(desk: &Desk<'_>, size: &Spanned<String>) -> Result<String, String> {
    if desk.catalog.pipes.contains_key(&size.value) {
        return Ok(size.value.clone());
    }
    let outside = read_all(&size.value, Dimension::Length)
        .ok()
        .and_then(|quantity| quantity.length());
    let found = desk.catalog.pipes.iter().find(|(_, pipe)| {
        outside.is_some()
            && pipe.material.get() == Some(PipeMaterial::CopperRefrigerant)
            && Stated::get(&pipe.outside) == outside
    });
    found
        .map(|(name, _)| name.clone())
        .ok_or_else(|| format!("no refrigerant line of `{}` in the catalog", size.value))
}
