//! What controls time after a call has ended: how long a blower runs on, how long a compressor stands before it may
//! start again.

use crate::catalog::{CallSide, Catalog, SafetyType, Stated, Thermostat as Sheet, Times};
use crate::figures::{Figure, Ledger};
use crate::model::{Equipment, Model, Thermostat};
use crate::quantity::{Dimension, Duration};
use crate::source::Span;

use super::circuit::Circuit;
use super::drive::Driver;
use super::netlist::Netlist;
use super::owner::handlers_of;
use super::table::Case;

const BY_SHEET: &str = "the equipment's catalog";

/// A time that one control keeps.
struct Kept {
    seconds: f64,
    span: Span,
    by: String,
}

fn kept(stated: Option<&Stated<Duration>>, by: impl Into<String>) -> Option<Kept> {
    let stated = stated?;
    Some(Kept {
        seconds: stated.get()?.value(),
        span: stated.span,
        by: by.into(),
    })
}

fn put(id: String, formula: &str, all: &[Kept], ledger: &mut Ledger) {
    let Some(longest) = all.iter().map(|one| one.seconds).max_by(f64::total_cmp) else {
        return;
    };
    let mut figure = Figure::number(id, longest, Dimension::Duration)
        .formula(formula)
        .source(BY_SHEET);
    for one in all {
        figure = figure.place(one.span, one.by.clone());
    }
    ledger.enter(figure);
}

/// The thermostats that belong to an air handler, with their sheets.
fn thermostats_of<'a>(
    (model, catalog): (&'a Model, &'a Catalog),
    unit: &str,
) -> Vec<(&'a Thermostat, Option<&'a Sheet>)> {
    model
        .thermostats
        .values()
        .filter(|one| {
            handlers_of(model, &one.name)
                .iter()
                .any(|name| name == unit)
        })
        .map(|one| {
            let sheet = one
                .model
                .as_ref()
                .and_then(|model| catalog.thermostats.get(&model.value));
            (one, sheet)
        })
        .collect()
}

/// Whether the fan call of a thermostat runs the blower of `unit`.
fn runs_blower(circuit: &Circuit<'_>, model: &Model, thermostat: &str, unit: &str) -> bool {
    let fan = circuit
        .states()
        .iter()
        .position(|state| state.word == "fan" && state.thermostat.as_deref() == Some(thermostat));
    fan.is_some_and(|fan| {
        let case = Case {
            calls: vec![fan],
            ..Case::default()
        };
        let rest = circuit.rest_of(&circuit.drawn, &case);
        circuit.blower_runs(model, unit, &case, &rest) == Some(true)
    })
}

fn enter_blowers(circuit: &Circuit<'_>, job: (&Model, &Catalog), ledger: &mut Ledger) {
    type After = fn(&Times) -> Option<&Stated<Duration>>;
    let ends: [(&str, After); 2] = [
        ("cool", |times| times.blower_after_cool.as_ref()),
        ("heat", |times| times.blower_after_heat.as_ref()),
    ];
    for unit in job.0.air_handlers.values() {
        for (what, after) in ends {
            let board = unit.sheet.times.as_ref().and_then(after);
            let mut all: Vec<Kept> = kept(board, format!("board of {}", unit.name))
                .into_iter()
                .collect();
            for (thermostat, sheet) in thermostats_of(job, &unit.name) {
                let own = sheet.and_then(|sheet| sheet.times.as_ref()).and_then(after);
                let own = kept(own, thermostat.name.clone());
                if own.is_some() && runs_blower(circuit, job.0, &thermostat.name, &unit.name) {
                    all.extend(own);
                }
            }
            put(
                format!("control.{}.blower-after-{what}", unit.name),
                "longest time that the board, or a thermostat whose fan call runs the blower, keeps it on after the call has ended",
                &all,
                ledger,
            );
        }
    }
}

/// The air handlers through whose outputs, and so through whose boards, the calls for cooling of `unit` come; all of
/// them do.
fn boards<'a>(net: &'a Netlist, unit: &str) -> Vec<&'a str> {
    let mut out = Vec::new();
    for (n, point) in net.points() {
        let takes = CallSide::In;
        if point.unit() != Some(unit) || point.call().map(|(side, _)| side) != Some(takes) {
            continue;
        }
        for drive in net.drives(n) {
            if drive.driver != Driver::Output {
                // A call past the board is not timed by it.
                return Vec::new();
            }
            let board = drive.path.last().and_then(|last| net.at(*last)?.unit());
            out.extend(board.filter(|board| !out.contains(board)));
        }
    }
    out
}

/// The time that the sheet of a unit with a compressor asks between two runs, and the time that its own control keeps.
fn compressor<'a>(
    catalog: &'a Catalog,
    unit: &Equipment,
) -> Option<[Option<&'a Stated<Duration>>; 2]> {
    let model = &unit.model.as_ref()?.value;
    match unit.kind {
        "outdoor-unit" => {
            let sheet = catalog.outdoor_units.get(model)?;
            Some([sheet.least_off.as_ref(), sheet.keeps_off.as_ref()])
        }
        "chiller" => {
            let sheet = catalog.chillers.get(model)?;
            Some([sheet.least_off.as_ref(), sheet.keeps_off.as_ref()])
        }
        _ => None,
    }
}

fn enter_compressor(
    net: &Netlist,
    job @ (model, catalog): (&Model, &Catalog),
    unit: &Equipment,
    ledger: &mut Ledger,
) {
    let Some([least_off, keeps_off]) = compressor(catalog, unit) else {
        return;
    };
    let id = |what: &str| format!("control.{}.{what}", unit.name);
    let asked = kept(least_off, "least-off");
    put(
        id("time-off-asked"),
        "shortest time that the compressor has to stand between two runs, as its sheet states it",
        asked.as_slice(),
        ledger,
    );
    let mut all: Vec<Kept> = kept(keeps_off, unit.name.clone()).into_iter().collect();
    for board in boards(net, &unit.name) {
        let times = model
            .air_handlers
            .get(board)
            .and_then(|unit| unit.sheet.times.as_ref());
        all.extend(kept(
            times.and_then(|times| times.time_off.as_ref()),
            format!("board of {board}"),
        ));
    }
    let handlers = handlers_of(model, &unit.name);
    let mut callers: Vec<(&Thermostat, Option<&Sheet>)> = Vec::new();
    for handler in &handlers {
        for one in thermostats_of(job, handler) {
            if !callers.iter().any(|(known, _)| known.name == one.0.name) {
                callers.push(one);
            }
        }
    }
    // Of several thermostats one starts the compressor right after another has stopped it: none keeps it off.
    if let [(thermostat, Some(sheet))] = callers.as_slice() {
        let times = sheet.times.as_ref();
        all.extend(kept(
            times.and_then(|times| times.time_off.as_ref()),
            thermostat.name.clone(),
        ));
    }
    put(
        id("time-off"),
        "longest time that the unit's own control, a board that all its calls pass, or its only thermostat keeps the compressor off",
        &all,
        ledger,
    );
    let Some(off) = ledger.real(&id("time-off")).filter(|off| *off > 0.0) else {
        return;
    };
    let cycling = handlers
        .iter()
        .filter_map(|name| model.air_handlers.get(name))
        .flat_map(|unit| unit.sheet.safeties.values())
        .find(|safety| {
            safety.type_of.get() == Some(SafetyType::Freeze)
                && safety.locks_out.as_ref().and_then(Stated::get) == Some(false)
        });
    if let Some(safety) = cycling {
        ledger.enter(
            Figure::number(
                id("freeze-starts"),
                (3600.0 / off).floor(),
                Dimension::Count,
            )
            .formula("3,600 s / time off, whole starts: the most in an hour while the freeze cut-out opens and closes; thawing makes them fewer")
            .place(safety.span, "freeze cut-out")
            .input(id("time-off"))
            .source(BY_SHEET),
        );
    }
}

/// Enters the times that stand in the catalogs, and what follows from them.
pub(super) fn enter(
    circuit: &Circuit<'_>,
    net: &Netlist,
    job: (&Model, &Catalog),
    ledger: &mut Ledger,
) {
    enter_blowers(circuit, job, ledger);
    for unit in job.0.equipment.values() {
        enter_compressor(net, job, unit, ledger);
    }
}
