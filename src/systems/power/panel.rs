//! What the circuits of a job add to a panel, and what it then carries.

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::model::{Circuit, Model, Panel};
use crate::quantity::Dimension;

use super::code::{edition_of, nec};
use super::given::given;
use super::plate::plates_of;

/// The largest motor counts at 125 % (NEC 430.24).
const LARGEST_MORE: f64 = 0.25;

/// The voltages that a supply system gives, as it is written (`240/120`).
pub fn voltages(supply: &str) -> Vec<f64> {
    supply
        .split('/')
        .filter_map(|part| part.trim().trim_end_matches(['V', 'v']).trim().parse().ok())
        .collect()
}

/// The circuits that the job adds to a panel.
pub fn added<'m>(model: &'m Model, panel: &'m Panel) -> impl Iterator<Item = &'m Circuit> {
    model.circuits.values().filter(|circuit| {
        let from = circuit.panel.as_ref();
        !circuit.existing && from.is_some_and(|from| from.value == panel.name)
    })
}

/// The largest motor on a circuit, VA: a compressor, a blower, a pump; 0 where its plate names no motor.
fn largest_motor(model: &Model, catalog: &Catalog, circuit: &Circuit, volts: f64) -> f64 {
    plates_of(model, catalog, circuit)
        .into_iter()
        .filter_map(|(_, plate)| plate.carries())
        .flat_map(|loads| loads.compressors.into_iter().chain(loads.motors))
        .map(|motor| motor.value() * volts)
        .fold(0.0, f64::max)
}

/// How many positions the breakers of the job's circuits take in a panel.
fn enter_positions(model: &Model, panel: &Panel, ledger: &mut Ledger) {
    let id = |what: &str| format!("panel.{}.{what}", panel.name);
    let inputs: Vec<(String, f64)> = added(model, panel)
        .map(|circuit| format!("circuit.{}.poles", circuit.name))
        .filter_map(|id| ledger.real(&id).map(|poles| (id, poles)))
        .collect();
    let taken = inputs.iter().map(|(_, poles)| *poles).sum();
    let figure = Figure::number(id("positions-taken"), taken, Dimension::Count)
        .formula("poles of the breakers of the job's circuits, one position each");
    let inputs = inputs.into_iter();
    ledger.enter(inputs.fold(figure, |figure, (input, _)| figure.input(input)));
    for (what, number, dimension, formula) in [
        (
            "rating",
            panel.rating,
            Dimension::Current,
            "rating of the panel, as given",
        ),
        (
            "load",
            panel.load,
            Dimension::Current,
            "what the panel carries without this job, as given",
        ),
        (
            "positions-free",
            panel.free,
            Dimension::Count,
            "free positions of the panel, as given",
        ),
    ] {
        given(ledger, id(what), (number, dimension), formula, what);
    }
}

/// Enters what the job's circuits add, and the whole with what the panel carries already.
pub(super) fn enter_load(model: &Model, catalog: &Catalog, panel: &Panel, ledger: &mut Ledger) {
    enter_positions(model, panel, ledger);
    let (Some(load), Some(supply)) = (panel.load, &panel.supply) else {
        return;
    };
    let Some(higher) = voltages(&supply.value).into_iter().reduce(f64::max) else {
        return;
    };
    let id = |what: &str| format!("panel.{}.{what}", panel.name);
    let formula = "currents of the job's circuits × their voltages, a quarter of the largest motor more, ÷ the panel's higher voltage; all of them at once";
    let source = nec(edition_of(model), ["220.14(C), 220.18(A), 430.24"; 3]);
    let mut figure = Figure::number(id("load-added"), 0.0, Dimension::Current)
        .formula(formula)
        .source(source);
    let (mut sum, mut largest) = (0.0, 0.0_f64);
    for circuit in added(model, panel) {
        let current = ["running", "least-ampacity"]
            .map(|what| format!("circuit.{}.{what}", circuit.name))
            .into_iter()
            .find_map(|id| ledger.real(&id).map(|value| (id, value)));
        let (Some((input, current)), Some(volts)) = (current, circuit.volts) else {
            let reason = format!("what circuit `{}` carries is not known", circuit.name);
            ledger.enter(Figure::unknown(id("load-added"), reason.clone()).formula(formula));
            ledger.enter(Figure::unknown(id("load-whole"), reason));
            return;
        };
        sum += current * volts.value;
        largest = largest.max(largest_motor(model, catalog, circuit, volts.value));
        figure = figure.input(input).place(volts.span, "volts");
    }
    let added = (sum + LARGEST_MORE * largest) / higher;
    let whole = load.value + added;
    figure.value = Figure::number(String::new(), added, Dimension::Current).value;
    ledger.enter(figure.place(supply.span, supply.value.clone()));
    ledger.enter(
        Figure::number(id("load-whole"), whole, Dimension::Current)
            .formula("what the panel carries already and what the job adds")
            .input(id("load"))
            .input(id("load-added"))
            .source(nec(edition_of(model), ["220.87"; 3])),
    );
}
