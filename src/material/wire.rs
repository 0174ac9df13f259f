//! Conductors from terminal to terminal: power, then control, spares among them.

use crate::model::{Cable, Circuit};
use crate::source::Span;
use crate::systems::power::{colour_of, started};

use super::desk::Desk;

/// A conductor and where its ends land.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WireRow {
    /// The circuit or cable.
    pub cable: String,
    /// Its number in the cable, in the order written.
    pub conductor: usize,
    /// Its colour.
    pub colour: String,
    /// Where it starts; `spare` when it is not landed.
    pub from: String,
    /// Where it ends; empty for a spare.
    pub to: String,
    /// The statement.
    pub span: Span,
}

/// All conductors.
pub(super) fn take_off(desk: &Desk<'_>) -> Vec<WireRow> {
    let model = desk.model;
    let mut rows: Vec<WireRow> = Vec::new();
    for circuit in model.circuits.values() {
        rows.extend(power(desk, circuit));
    }
    for cable in model.cables.values() {
        rows.extend(control(desk, cable));
    }
    rows
}

/// The colours that an equipment ground has (NEC 250.119).
fn is_ground(colour: &str) -> bool {
    matches!(colour, "bare" | "green" | "green-yellow")
}

fn power(desk: &Desk<'_>, circuit: &Circuit) -> Vec<WireRow> {
    let panel = circuit
        .panel
        .as_ref()
        .map_or("panel", |panel| panel.value.as_str());
    let one_pole = circuit
        .poles
        .as_ref()
        .is_some_and(|poles| poles.value == "1-pole");
    let mut positions = circuit.positions.iter();
    let mut rows = Vec::new();
    for (n, landing) in circuit.landings.iter().enumerate() {
        let colour = landing.conductor.value.clone();
        let from = if is_ground(&colour) {
            format!("{panel} ground bar")
        } else if one_pole && colour == "white" {
            // White is the grounded conductor where there is one (NEC 200.6).
            format!("{panel} neutral bar")
        } else {
            positions.next().map_or_else(
                || format!("{panel} breaker"),
                |position| format!("{panel} position {}", position.value),
            )
        };
        rows.push(WireRow {
            cable: circuit.name.clone(),
            conductor: n + 1,
            colour,
            from,
            to: format!("{}.{}", circuit.unit.value, landing.terminal.value),
            span: landing.span,
        });
    }
    let hot = colour_of(desk.catalog, circuit, false).and_then(|hot| hot.as_ref());
    for one in started(desk.model, circuit) {
        let at = |terminal: &str| format!("{}.{terminal}", one.relay.value);
        let position = circuit.positions.first();
        let breaker = position.map_or_else(
            || format!("{panel} breaker"),
            |position| format!("{panel} position {}", position.value),
        );
        for (from, to) in [
            (breaker, at(one.common.0)),
            (at(one.open.0), one.unit.name.clone()),
        ] {
            rows.push(WireRow {
                cable: circuit.name.clone(),
                conductor: rows.len() + 1,
                colour: hot.cloned().unwrap_or_else(|| "hot".to_owned()),
                from,
                to,
                span: circuit.span,
            });
        }
    }
    rows
}

fn control(desk: &Desk<'_>, cable: &Cable) -> Vec<WireRow> {
    let mut rows: Vec<WireRow> = cable
        .wires
        .iter()
        .map(|wire| WireRow {
            cable: cable.name.clone(),
            conductor: 0,
            colour: wire.colour.value.clone(),
            from: wire.from.value.clone(),
            to: wire.to.value.clone(),
            span: wire.span,
        })
        .collect();
    let spare = |colour: &str, span: Span| WireRow {
        cable: cable.name.clone(),
        conductor: 0,
        colour: colour.to_owned(),
        from: "spare".to_owned(),
        to: String::new(),
        span,
    };
    for colour in &cable.spares {
        rows.push(spare(&colour.value, colour.span));
    }
    // What the cable has and nothing mentions is a spare too.
    let item = cable
        .item
        .as_ref()
        .and_then(|item| desk.catalog.cables.get(&item.value));
    for colour in item.iter().flat_map(|item| &item.colours) {
        let Some(word) = colour.as_ref() else {
            continue;
        };
        if !rows.iter().any(|row| row.colour == *word) {
            rows.push(spare(word, colour.span));
        }
    }
    for (n, row) in rows.iter_mut().enumerate() {
        row.conductor = n + 1;
    }
    rows
}
