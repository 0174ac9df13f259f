//! Line voltage over the contact of a relay: which circuits pass one on their way, and by which terminals.

use crate::catalog::{Catalog, Role, Stated, Terminal};
use crate::model::{Circuit, Circulator, Model};
use crate::source::Spanned;

use super::conductor::cable_of;

/// A unit on a circuit that the contact of a relay starts.
#[derive(Clone, Copy, Debug)]
pub struct Started<'m> {
    /// What is started.
    pub unit: &'m Circulator,
    /// The relay whose contact starts it.
    pub relay: &'m Spanned<String>,
    /// The common of the contact: the hot conductor comes from the breaker to it.
    pub common: (&'m str, &'m Terminal),
    /// The side that closes when the coil is fed: it leads on to the unit.
    pub open: (&'m str, &'m Terminal),
}

/// What is started by a relay's contact on a circuit: the first of those that one relay starts by its first free
/// contact, the next one by the next. Nothing where the relay's terminals are not known, or all its
/// contacts carry control conductors.
pub fn started<'m>(model: &'m Model, circuit: &'m Circuit) -> Vec<Started<'m>> {
    let wired = |relay: &str, terminal: &str| {
        let name = format!("{relay}.{terminal}");
        let mut wires = model.cables.values().flat_map(|cable| &cable.wires);
        wires.any(|wire| wire.from.value == name || wire.to.value == name)
    };
    circuit
        .units()
        .filter_map(|unit| {
            let unit = model.water.circulators.get(&unit.value)?;
            let relay = unit.relay.as_ref()?;
            let terminals = model.equipment.get(&relay.value)?.terminals.as_ref()?;
            let mut same = model.water.circulators.values().filter(|other| {
                let by = other.relay.as_ref();
                by.is_some_and(|by| by.value == relay.value)
            });
            let turn = same.position(|other| other.name == unit.name)?;
            let with = |role: Role| {
                let free: Vec<(&str, &Terminal)> = terminals
                    .iter()
                    .filter(|(_, terminal)| terminal.role.get() == Some(role))
                    .map(|(name, terminal)| (name.as_str(), terminal))
                    .filter(|(name, _)| !wired(&relay.value, name))
                    .collect();
                free.get(turn).or(free.last()).copied()
            };
            Some(Started {
                unit,
                relay,
                common: with(Role::ContactCommon)?,
                open: with(Role::ContactOpen)?,
            })
        })
        .collect()
}

/// Whether a conductor is a neutral by its colour (NEC 200.6).
pub fn is_white(conductor: &str) -> bool {
    let conductor = conductor.to_lowercase();
    ["white", "grey", "gray"]
        .iter()
        .any(|word| conductor.contains(word))
}

/// The colour of the cable's conductors that are white, or of those that are not: the first.
pub fn colour_of<'c>(
    catalog: &'c Catalog,
    circuit: &Circuit,
    white: bool,
) -> Option<&'c Stated<String>> {
    let colours = &cable_of(catalog, circuit)?.colours;
    let is = |stated: &&Stated<String>| stated.as_ref().is_some_and(|c| is_white(c) == white);
    colours.iter().find(is)
}
