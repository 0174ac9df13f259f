//! Enters the figures of every circuit, disconnect and panel.

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::model::{Circuit, Model};
use crate::physics::conductor::{Metal, Size, small_conductor_limit};
use crate::quantity::{Current, Dimension, trade_length};

use super::code::{edition_of, nec};
use super::conductor::{cable_of, enter_ampacity};
use super::demand::{Units, enter_plate};
use super::disconnect::enter_disconnect;
use super::drop::enter_drop;
use super::given::given;
use super::ground::enter_ground;
use super::panel::enter_load;
use super::plate::plates_of;
use super::space::enter_front;

fn enter_circuit(model: &Model, catalog: &Catalog, circuit: &Circuit, ledger: &mut Ledger) {
    let id = |what: &str| format!("circuit.{}.{what}", circuit.name);
    let breaker = (circuit.breaker, Dimension::Current);
    given(
        ledger,
        id("breaker"),
        breaker,
        "rating of the breaker, as given",
        "breaker",
    );
    if let Some(poles) = &circuit.poles {
        let count = usize::from(poles.value.starts_with('2')) + 1;
        ledger.enter(
            Figure::count(id("poles"), count)
                .formula("poles of the breaker, as given")
                .place(poles.span, poles.value.clone()),
        );
    }
    let volts = (circuit.volts, Dimension::Voltage);
    given(
        ledger,
        id("volts"),
        volts,
        "voltage of the circuit, as given",
        "volts",
    );
    let edition = edition_of(model);
    if let Some(length) = circuit.measured {
        ledger.enter(
            Figure::length(id("length"), length.value)
                .formula("length one way by tape")
                .place(length.span, trade_length(length.value)),
        );
    }
    let plates = plates_of(model, catalog, circuit);
    let plate = plates.first().map(|(_, plate)| *plate);
    if let Some(units) = Units::of(circuit, &plates, edition) {
        enter_plate(&units, ledger);
    }
    let Some(cable) = cable_of(catalog, circuit) else {
        return;
    };
    enter_ampacity(model, circuit, cable, ledger);
    enter_ground(model, circuit, cable, ledger);
    let small = cable
        .gauge
        .get()
        .and_then(Size::awg)
        .and_then(|size| small_conductor_limit(size, Metal::Copper));
    if let Some(small) = small {
        let formula = if !plates.is_empty() && plates.iter().all(|(_, plate)| plate.is_freed()) {
            "breaker of small conductors by the general rule; air-conditioning equipment goes by its plate instead, 240.4(G)"
        } else {
            "breaker of small conductors by the general rule"
        };
        ledger.enter(
            Figure::number(
                id("small-conductor-limit"),
                Current::value(small),
                Dimension::Current,
            )
            .formula(formula)
            .input(id("gauge"))
            .source(nec(edition, ["240.4(D), (G)"; 3])),
        );
    }
    if let Some(plate) = &plate {
        enter_drop(model, circuit, cable, plate, ledger);
    }
}

/// Enters the figures of every circuit.
pub(in crate::systems) fn enter(model: &Model, catalog: &Catalog, ledger: &mut Ledger) {
    for circuit in model.circuits.values() {
        enter_circuit(model, catalog, circuit, ledger);
    }
    for disconnect in model.disconnects.values() {
        enter_disconnect(model, disconnect, ledger);
        enter_front(model, catalog, &disconnect.front(), ledger);
    }
    for panel in model.panels.values() {
        enter_front(model, catalog, &panel.front(), ledger);
        enter_load(model, catalog, panel, ledger);
    }
}
