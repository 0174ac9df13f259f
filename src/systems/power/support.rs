//! How building cable is held on its way, and where it is guarded in an attic: what only the packet prints.

use crate::catalog::{Catalog, Sheath, Stated};
use crate::figures::{Figure, Ledger};
use crate::model::{Circuit, Model};
use crate::quantity::{Dimension, Length, trade_length};

use super::code::{edition_of, nec};
use super::conductor::cable_of;

/// Distance between supports of building cable along framing, and from a box to the first (NEC 334.30).
const SUPPORTS: (Length, Length) = (Length::inches(54), Length::inches(12));

/// Where cable across attic framing is guarded: below this height where a stair leads up, else within this distance of
/// the hatch (NEC 320.23(A)).
const GUARDED: (Length, Length) = (Length::feet(7), Length::feet(6));

/// Enters how near to the way in cable across the framing of an attic is guarded.
fn enter_guard(model: &Model, circuit: &Circuit, ledger: &mut Ledger) {
    let access = model.entries.iter().find(|entry| {
        entry.word.word == "attic-access"
            && entry.text("story").known().is_some_and(|story| {
                circuit
                    .through
                    .iter()
                    .any(|space| space.value == story.value)
            })
    });
    let Some(access) = access else { return };
    let kind = access
        .child("kind")
        .and_then(|kind| kind.text("kind").known());
    let stair = kind.as_ref().is_some_and(|kind| kind.value != "hatch");
    let within = if stair { GUARDED.0 } else { GUARDED.1 };
    ledger.enter(
        Figure::length(format!("circuit.{}.guard-within", circuit.name), within)
            .formula("height above the floor of an attic reached by a permanent or pull-down stair, else distance from the hatch, within which cable across the framing is guarded")
            .place(kind.map_or(access.span, |kind| kind.span), "kind")
            .source(nec(edition_of(model), ["320.23(A), 334.23"; 3])),
    );
}

/// Enters what only the packet prints: how the cable is held.
pub(in crate::systems) fn enter_supports(model: &Model, catalog: &Catalog, ledger: &mut Ledger) {
    for circuit in model.circuits.values() {
        let (Some(cable), Some(length)) = (cable_of(catalog, circuit), circuit.measured) else {
            continue;
        };
        let sheath = cable.sheath.as_ref().and_then(Stated::get);
        if matches!(sheath, Some(Sheath::Mc | Sheath::Raceway)) {
            continue;
        }
        let id = |what: &str| format!("circuit.{}.{what}", circuit.name);
        enter_guard(model, circuit, ledger);
        let source = nec(edition_of(model), ["334.30"; 3]);
        let distances = [
            (
                "supports",
                SUPPORTS.0,
                "farthest from one support of building cable to the next",
            ),
            (
                "first-support",
                SUPPORTS.1,
                "farthest from a box or cabinet to the first support",
            ),
        ];
        for (what, length, formula) in distances {
            ledger.enter(
                Figure::length(id(what), length)
                    .formula(formula)
                    .source(source.clone()),
            );
        }
        let spaces = (length.value.to_feet() / SUPPORTS.0.to_feet()).ceil();
        ledger.enter(
            Figure::number(id("support-count"), spaces + 1.0, Dimension::Count)
                .formula("length ÷ distance between supports, rounded up, and one more")
                .place(length.span, trade_length(length.value))
                .input(id("supports"))
                .source(source),
        );
    }
}
