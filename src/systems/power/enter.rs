//! Enters the figures of every circuit.

use crate::catalog::{Catalog, Sheath, Stated};
use crate::figures::{Figure, Ledger};
use crate::model::{Circuit, Disconnect, Model};
use crate::physics::conductor::{Edition, Metal, Size, small_conductor_limit};
use crate::quantity::{Current, Dimension, Length, trade_length};

use super::code::{edition_of, nec};
use super::conductor::{cable_of, enter_ampacity};
use super::drop::enter_drop;
use super::ground::enter_ground;
use super::panel::enter_load;
use super::plate::{Plate, plates_of};
use super::space::{enter_panel, enter_switch};
use super::together::{Bound, bounds, is_silent, least_together, share_of};

/// Distance between supports of building cable along framing, and from a box to the first (NEC 334.30).
const SUPPORTS: (Length, Length) = (Length::inches(54), Length::inches(12));
/// Where cable across attic framing is guarded: below this height where a stair leads up, else within this distance of
/// the hatch (NEC 320.23(A)).
const GUARDED: (Length, Length) = (Length::feet(7), Length::feet(6));

/// Further units on a circuit, by name, with their plates.
type Further<'a> = [(&'a str, Plate<'a>)];

fn amperes(id: String, value: f64) -> Figure {
    Figure::number(id, value, Dimension::Current)
}

/// A current of the plate; unknown with its reason where the plate does not give it.
fn of_plate(id: String, stated: &Stated<Current>, what: &str) -> Figure {
    match stated.get() {
        Some(current) => amperes(id, current.value()).source("the equipment's catalog"),
        None => Figure::unknown(id, stated.reason().unwrap_or("not given")),
    }
    .place(stated.span, what)
}

fn with_loads(mut figure: Figure, plate: &Plate<'_>) -> Figure {
    for (stated, words) in plate.load_places() {
        figure = figure.place(stated.span, words);
    }
    figure
}

/// The running current, the further units with it.
fn enter_running(
    circuit: &Circuit,
    plate: &Plate<'_>,
    further: &Further<'_>,
    edition: Edition,
    ledger: &mut Ledger,
) {
    let id = |what: &str| format!("circuit.{}.{what}", circuit.name);
    let own = match plate.running {
        Some(stated) => {
            of_plate(id("running"), stated, "running").formula("running current on the plate")
        }
        None => match plate.carries() {
            Some(loads) if plate.loads.is_some() => with_loads(
                amperes(id("running"), loads.running().value())
                    .formula("loads of the unit together")
                    .source(nec(edition, ["Annex D"; 3])),
                plate,
            ),
            _ => return,
        },
    };
    let Some(value) = own.real().filter(|_| !further.is_empty()) else {
        ledger.enter(own);
        return;
    };
    let mut whole =
        amperes(id("running"), value).formula("running currents on the circuit together");
    for (span, text) in own.places() {
        whole = whole.place(span, text.to_owned());
    }
    let mut sum = value;
    for (name, plate) in further {
        let Some((span, current)) = share_of(plate) else {
            ledger.enter(
                Figure::unknown(
                    id("running"),
                    format!("the current of `{name}` is not known"),
                )
                .formula("running currents on the circuit together"),
            );
            return;
        };
        sum += current;
        whole = whole.place(span, format!("current of {name}"));
    }
    let mut whole = whole.source("the equipment's catalog");
    whole.value = amperes(id("running"), sum).value;
    ledger.enter(whole);
}

/// The minimum circuit ampacity: of the plate, else by the loads; with further units that of all together.
fn enter_least(
    circuit: &Circuit,
    plate: &Plate<'_>,
    further: &Further<'_>,
    edition: Edition,
    ledger: &mut Ledger,
) {
    let id = |what: &str| format!("circuit.{}.{what}", circuit.name);
    let name = if further.is_empty() {
        id("least-ampacity")
    } else {
        id("least-ampacity-own")
    };
    let asked = plate.carries().and_then(|loads| loads.least_ampacity());
    let own = match (plate.least_ampacity, asked) {
        (stated, Some(ask)) if is_silent(stated) => {
            let figure = amperes(name, ask.current.value())
                .source(nec(edition, [ask.rule.of_ampacity(edition); 3]));
            if plate.loads.is_some() {
                with_loads(
                    figure.formula("by its loads, since the plate gives no minimum circuit ampacity: the largest motor and electric heat at 125 %, the others whole"),
                    plate,
                )
            } else {
                with_loads(
                    figure.formula(
                        "125 % of the running current, where the plate gives no minimum circuit ampacity",
                    ),
                    plate,
                )
            }
        }
        (Some(stated), _) => of_plate(name, stated, "least-ampacity")
            .formula("minimum circuit ampacity on the plate, which holds the 125 % already"),
        (None, _) => return,
    };
    if further.is_empty() {
        ledger.enter(own);
        return;
    }
    ledger.enter(own);
    let plates: Vec<Plate<'_>> = std::iter::once(*plate)
        .chain(further.iter().map(|(_, plate)| *plate))
        .collect();
    let formula = "minimum circuit ampacity of the unit with the largest current, and the currents of the others whole";
    let Some(sum) = least_together(&plates) else {
        ledger.enter(
            Figure::unknown(
                id("least-ampacity"),
                "a current on the circuit is not known",
            )
            .formula(formula),
        );
        return;
    };
    let cools = plates.iter().any(|plate| plate.conditions_air);
    let section = if cools {
        "440.33, 440.34"
    } else {
        "430.24, 430.25"
    };
    let mut whole = amperes(id("least-ampacity"), sum)
        .formula(formula)
        .input(id("least-ampacity-own"))
        .source(nec(edition, [section; 3]));
    for (name, plate) in further {
        if let Some((span, _)) = share_of(plate) {
            whole = whole.place(span, format!("current of {name}"));
        }
    }
    ledger.enter(whole);
}

/// The largest breaker: of the plate, else by the loads; of several units the least.
fn enter_most(
    circuit: &Circuit,
    plate: &Plate<'_>,
    further: &Further<'_>,
    edition: Edition,
    ledger: &mut Ledger,
) {
    let id = || format!("circuit.{}.most-breaker", circuit.name);
    let plates: Vec<Plate<'_>> = std::iter::once(*plate)
        .chain(further.iter().map(|(_, plate)| *plate))
        .collect();
    let figures: Vec<Figure> = bounds(circuit, &plates, edition)
        .into_iter()
        .filter_map(|(n, bound)| match bound {
            Bound::Plate(stated) => Some(
                of_plate(id(), stated, "most-breaker")
                    .formula("maximum breaker or fuse on the plate"),
            ),
            Bound::Loads(breaker) => Some(with_loads(
                amperes(id(), breaker.rating.value())
                    .formula("by its loads, since the plate gives no maximum: 175 % of the largest compressor or 250 % of the largest motor and the others whole, brought to a standard rating; a motor up to 6 A may stand on a general circuit")
                    .place(circuit.volts?.span, "volts")
                    .source(nec(edition, [breaker.rule.of_breaker(edition); 3])),
                plates.get(n)?,
            )),
        })
        .collect();
    let unknown = figures.iter().find(|figure| figure.real().is_none());
    let least = figures
        .iter()
        .min_by(|a, b| a.real().unwrap_or(0.0).total_cmp(&b.real().unwrap_or(0.0)));
    let Some(mut most) = unknown.or(least).cloned() else {
        return;
    };
    if !further.is_empty() {
        let own = most.formula.clone();
        most = most.formula(format!(
            "the least that a unit on the circuit allows: {own}"
        ));
    }
    ledger.enter(most);
}

fn enter_plate(
    circuit: &Circuit,
    plate: &Plate<'_>,
    further: &Further<'_>,
    edition: Edition,
    ledger: &mut Ledger,
) {
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
    enter_running(circuit, plate, further, edition, ledger);
    enter_least(circuit, plate, further, edition, ledger);
    enter_most(circuit, plate, further, edition, ledger);
    if let Some((needed, span)) = plate.poles_needed() {
        ledger.enter(
            Figure::count(id("poles-needed"), needed)
                .formula("poles of the breaker on the plate")
                .place(span, "poles")
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
    if let Some(plate) = &plate {
        let further: Vec<(&str, Plate<'_>)> = plates
            .iter()
            .skip(1)
            .map(|(unit, plate)| (unit.value.as_str(), *plate))
            .collect();
        enter_plate(circuit, plate, &further, edition, ledger);
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
        .filter(|circuit| circuit.serves(&disconnect.unit.value))
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
        .source(nec(edition_of(model), ["110.3(B), 440.12(A)"; 3]));
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
        enter_switch(model, catalog, disconnect, ledger);
    }
    for panel in model.panels.values() {
        enter_panel(model, catalog, panel, ledger);
        enter_load(model, catalog, panel, ledger);
    }
}
