//! Enters the figures of every circuit.

use crate::catalog::{Catalog, Stated};
use crate::figures::{Figure, Ledger};
use crate::model::{Circuit, Disconnect, Model};
use crate::physics::conductor::{Metal, Size, small_conductor_limit};
use crate::quantity::{Current, Dimension, trade_length};

use super::conductor::{cable_of, enter_ampacity, enter_drop, enter_ground};
use super::plate::{Plate, plate_of, poles};

/// Share of a motor's running current that its conductors are sized for (NEC 430.22).
const MOTOR_SHARE: f64 = 1.25;

fn enter_plate(circuit: &Circuit, plate: &Plate<'_>, ledger: &mut Ledger) {
    let id = |what: &str| format!("circuit.{}.{what}", circuit.name);
    if let Some((name, setting)) = plate.setting {
        ledger.enter(
            Figure::text(id("setting"), name)
                .formula("the voltage setting that the job names, else the first of the sheet, as shipped")
                .place(setting.span, name)
                .source("the equipment's catalog"),
        );
    }
    if let Some(supply) = plate.supply.get() {
        for (what, end) in [("supply-least", supply.least), ("supply-most", supply.most)] {
            ledger.enter(
                Figure::number(id(what), end.value(), Dimension::Voltage)
                    .formula("end of the supply voltages that the plate allows")
                    .place(plate.supply.span, "supply")
                    .source("the equipment's catalog"),
            );
        }
    }
    let amperes = [
        (
            "most-breaker",
            plate.most_breaker,
            "maximum breaker or fuse on the plate",
        ),
        ("running", plate.running, "running current on the plate"),
        (
            "least-ampacity",
            plate.least_ampacity,
            "minimum circuit ampacity on the plate, which holds the 125 % already",
        ),
    ];
    for (what, stated, formula) in amperes {
        let Some(stated) = stated else { continue };
        let figure = match stated.get() {
            Some(current) => Figure::number(id(what), current.value(), Dimension::Current)
                .source("the equipment's catalog"),
            None => Figure::unknown(id(what), stated.reason().unwrap_or("not given")),
        };
        ledger.enter(figure.formula(formula).place(stated.span, what));
    }
    if plate.least_ampacity.is_none()
        && let Some(running) = plate.running.and_then(Stated::get)
    {
        ledger.enter(
            Figure::number(
                id("least-ampacity"),
                running.value() * MOTOR_SHARE,
                Dimension::Current,
            )
            .formula(
                "125 % of the running current, where the plate gives no minimum circuit ampacity",
            )
            .input(id("running"))
            .source("NEC 430.22"),
        );
    }
    if let Some(needed) = plate.poles.and_then(poles) {
        ledger.enter(
            Figure::count(id("poles-needed"), needed)
                .formula("poles of the breaker on the plate")
                .place(plate.poles.map_or(plate.span, |poles| poles.span), "poles")
                .source("the equipment's catalog"),
        );
    }
}

fn enter_circuit(model: &Model, catalog: &Catalog, circuit: &Circuit, ledger: &mut Ledger) {
    let id = |what: &str| format!("circuit.{}.{what}", circuit.name);
    if let Some(breaker) = circuit.breaker {
        ledger.enter(
            Figure::number(id("breaker"), breaker.value, Dimension::Current)
                .formula("rating of the breaker, as given")
                .place(breaker.span, "breaker"),
        );
    }
    if let Some(poles) = &circuit.poles {
        let count = usize::from(poles.value.starts_with('2')) + 1;
        ledger.enter(
            Figure::count(id("poles"), count)
                .formula("poles of the breaker, as given")
                .place(poles.span, poles.value.clone()),
        );
    }
    if let Some(volts) = circuit.volts {
        ledger.enter(
            Figure::number(id("volts"), volts.value, Dimension::Voltage)
                .formula("voltage of the circuit, as given")
                .place(volts.span, "volts"),
        );
    }
    if let Some(length) = circuit.measured {
        ledger.enter(
            Figure::length(id("length"), length.value)
                .formula("length one way by tape")
                .place(length.span, trade_length(length.value)),
        );
    }
    let plate = plate_of(model, catalog, circuit);
    if let Some(plate) = &plate {
        enter_plate(circuit, plate, ledger);
    }
    let Some(cable) = cable_of(catalog, circuit) else {
        return;
    };
    enter_ampacity(model, circuit, cable, ledger);
    enter_ground(circuit, cable, ledger);
    let small = cable
        .gauge
        .get()
        .and_then(Size::awg)
        .and_then(|size| small_conductor_limit(size, Metal::Copper));
    if let Some(small) = small {
        let formula = if plate.is_some_and(|plate| plate.conditions_air) {
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
            .source("NEC 240.4(D), (G)"),
        );
    }
    if let Some(plate) = &plate {
        enter_drop(circuit, cable, plate, ledger);
    }
}

/// Enters what a disconnect is rated, what it has to carry, and how far it stands.
fn enter_disconnect(model: &Model, disconnect: &Disconnect, ledger: &mut Ledger) {
    let id = |what: &str| format!("disconnect.{}.{what}", disconnect.name);
    if let Some(rating) = disconnect.rating {
        ledger.enter(
            Figure::number(id("rating"), rating.value, Dimension::Current)
                .formula("rating of the disconnect, as given")
                .place(rating.span, "rating"),
        );
    }
    if let Some(distance) = disconnect.distance {
        ledger.enter(
            Figure::length(id("distance"), distance.value)
                .formula("distance from the unit, as given")
                .place(distance.span, "distance"),
        );
    }
    let circuits: Vec<&Circuit> = model
        .circuits
        .values()
        .filter(|circuit| circuit.unit.value == disconnect.unit.value)
        .collect();
    let [circuit] = circuits.as_slice() else {
        return;
    };
    let inputs: Vec<(String, f64)> = ["breaker", "least-ampacity"]
        .iter()
        .filter_map(|what| {
            let input = format!("circuit.{}.{what}", circuit.name);
            ledger.real(&input).map(|value| (input, value))
        })
        .collect();
    let most = inputs
        .iter()
        .map(|(_, value)| *value)
        .max_by(f64::total_cmp);
    let Some(most) = most else { return };
    let mut figure = Figure::number(id("rating-needed"), most, Dimension::Current)
        .formula("the greater of the breaker and the plate's minimum circuit ampacity")
        .source("NEC 110.3(B), 440.12(A)");
    for (input, _) in inputs {
        figure = figure.input(input);
    }
    ledger.enter(figure);
}

/// Enters the figures of every circuit.
pub(in crate::systems) fn enter(model: &Model, catalog: &Catalog, ledger: &mut Ledger) {
    for circuit in model.circuits.values() {
        enter_circuit(model, catalog, circuit, ledger);
    }
    for disconnect in model.disconnects.values() {
        enter_disconnect(model, disconnect, ledger);
    }
}
