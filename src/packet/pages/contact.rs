//! Line voltage over the contact of a relay, as the pages on circuits and controls print it.

use super::feed_line::positions;
use super::source::PageSource;
use crate::model::Circuit;
use crate::packet::page::{Block, Caution, Column, Hazard, Table};
use crate::packet::text::{Text, say};
use crate::systems::power::{Started, colour_of, started};

/// A contact with its words.
pub(super) struct Contact {
    /// The relay.
    pub relay: Text,
    /// The terminal that the hot conductor comes to.
    pub common: Text,
    /// The terminal that it leaves from.
    pub open: Text,
    /// The color of the hot conductor.
    pub colour: Text,
    /// What the contact starts.
    pub unit: Text,
}

impl Contact {
    /// The words of a contact on a circuit.
    pub(super) fn of(source: &PageSource<'_>, circuit: &Circuit, one: &Started<'_>) -> Self {
        let hot = colour_of(source.catalog, circuit, false);
        Self {
            relay: source.word(one.relay),
            common: source.name(one.common.1.span, one.common.0),
            open: source.name(one.open.1.span, one.open.0),
            colour: hot.map_or_else(|| say("feed.hot").into(), |hot| source.stated(hot)),
            unit: source.name(one.unit.span, &one.unit.name),
        }
    }
}

/// The panel and the breaker's position, as a conductor's end.
fn breaker(source: &PageSource<'_>, circuit: &Circuit) -> Text {
    let panel = source.word_or_not(circuit.panel.as_ref());
    match positions(source, circuit) {
        Some(marks) => say("feed.contact-position")
            .with("panel", panel)
            .with("marks", marks)
            .into(),
        None => panel,
    }
}

/// What lands on a terminal of a relay from circuits: the hot conductor, from the breaker or on to what it starts.
/// `short` leaves out which breaker.
pub(super) fn landed(
    source: &PageSource<'_>,
    relay: &str,
    terminal: &str,
    short: bool,
) -> Option<Text> {
    let mut all = Vec::new();
    for circuit in source.model.circuits.values() {
        let own = started(source.model, circuit);
        for one in own.iter().filter(|one| one.relay.value == relay) {
            let contact = Contact::of(source, circuit, one);
            let words = if one.common.0 == terminal && short {
                say("feed.contact-breaker").with("colour", contact.colour)
            } else if one.common.0 == terminal {
                say("feed.contact-from")
                    .with("colour", contact.colour)
                    .with("panel", breaker(source, circuit))
                    .with("circuit", source.name(circuit.span, &circuit.name))
            } else if one.open.0 == terminal {
                say("feed.contact-to")
                    .with("colour", contact.colour)
                    .with("unit", contact.unit)
            } else {
                continue;
            };
            all.push(words.into());
        }
    }
    (!all.is_empty()).then(|| Text::listed(all))
}

/// The circuits that pass a contact, each with its name.
pub(super) fn circuits(source: &PageSource<'_>) -> Vec<Text> {
    let all = source.model.circuits.values();
    all.filter(|circuit| !started(source.model, circuit).is_empty())
        .map(|circuit| source.name(circuit.span, &circuit.name))
        .collect()
}

/// Each conductor over a contact: its circuit, its color, from where, to where.
pub(in crate::packet) fn conductors(source: &PageSource<'_>) -> Vec<[Text; 4]> {
    let mut out = Vec::new();
    for circuit in source.model.circuits.values() {
        for one in started(source.model, circuit) {
            let contact = Contact::of(source, circuit, &one);
            let name = source.name(circuit.span, &circuit.name);
            let at = |terminal: Text| -> Text {
                say("feed.contact-at")
                    .with("relay", contact.relay.clone())
                    .with("terminal", terminal)
                    .into()
            };
            out.push([
                name.clone(),
                contact.colour.clone(),
                breaker(source, circuit),
                at(contact.common.clone()),
            ]);
            out.push([
                name,
                contact.colour.clone(),
                at(contact.open.clone()),
                contact.unit.clone(),
            ]);
        }
    }
    out
}

/// From terminal to terminal: each conductor over a contact, with its heading; nothing where no circuit has one.
pub(super) fn blocks(source: &PageSource<'_>) -> Vec<Block> {
    let mut table = Table::new(vec![
        Column::left(say("feed.glance-circuit")).wide(),
        Column::left(say("controls.col-colour")),
        Column::left(say("controls.col-from")),
        Column::left(say("controls.col-to")),
        Column::center(say("controls.col-done")),
    ]);
    for [circuit, colour, from, to] in conductors(source) {
        table.row([circuit, colour, from, to, Text::blank()]);
    }
    if table.rows.is_empty() {
        return Vec::new();
    }
    let lock = say("feed.contacts-lock").with("circuits", Text::listed(circuits(source)));
    vec![
        Block::heading(say("feed.contacts")),
        Block::Caution(Caution::new(Hazard::Shock, lock)),
        Block::Table(table),
    ]
}
