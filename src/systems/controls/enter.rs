//! Enters what drives each call terminal, and how many conductors of each cable are used.

use crate::catalog::{CallSide, Catalog};
use crate::figures::{Figure, Ledger};
use crate::model::Model;
use crate::source::Span;

use super::enter_runs::listed;
use super::{Circuit, Drive, Driver, Netlist, Place, load, slug};

/// The way from thermostat to terminal in words, with the safeties where it passes them.
fn whole_path(net: &Netlist, drive: &Drive) -> String {
    let mut path = drive.path.clone();
    path.reverse();
    let words = net.path_words(&path);
    if drive.driver != Driver::Output {
        return words;
    }
    let output = drive.path.last().and_then(|last| net.at(*last));
    let call_in = net.points().find(|(_, point)| {
        point.unit() == output.and_then(super::Point::unit)
            && point.call() == drive.call.map(|call| (CallSide::In, call))
    });
    let before = call_in.and_then(|(n, _)| {
        let first = net.drives(n).into_iter().next()?;
        let mut path = first.path;
        path.reverse();
        Some(net.path_words(&path))
    });
    match before {
        Some(before) => format!("{before} → behind the safeties → {words}"),
        None => format!("behind the safeties → {words}"),
    }
}

fn words_on(net: &Netlist, path: &[usize]) -> Vec<(Span, String)> {
    path.windows(2)
        .filter_map(|pair| {
            let [one, other] = pair else { return None };
            let name = net.at(*one).or_else(|| net.at(*other))?.words();
            Some((net.words_between(*one, *other)?, name))
        })
        .collect()
}

/// Enters which call terminals are fed at each call, and for each terminal the calls that feed it.
fn enter_runs(circuit: &Circuit<'_>, net: &Netlist, ledger: &mut Ledger) {
    let runs: Vec<_> = circuit
        .states()
        .iter()
        .map(|state| (state, circuit.run(state, None)))
        .collect();
    super::meter::enter(circuit, net, &runs, ledger);
    let name = |n: usize| net.at(n).map_or("", |point| point.name.as_str());
    for (state, running) in &runs {
        let thermostat = state.thermostat.as_deref().unwrap_or("thermostats");
        let fed: Vec<String> = circuit
            .loads()
            .iter()
            .enumerate()
            .filter(|(n, load)| load.wanted().is_some() && running.feeds(*n))
            .map(|(_, load)| name(load.at).to_owned())
            .collect();
        ledger.enter(
            Figure::text(
                format!("control.{thermostat}.runs-on-{}", state.word),
                listed(&fed),
            )
            .formula("call terminals that are fed while this call alone is up, safeties at rest")
            .source("the wiring run as switches and loads to its fixed point"),
        );
    }
    for (n, load, _) in circuit.callers() {
        let id = format!("control.{}.fed-on", slug(name(load.at)));
        let on: Vec<String> = runs
            .iter()
            .filter(|(_, running)| running.feeds(n))
            .map(|(state, _)| match &state.thermostat {
                Some(thermostat) => format!("{} at {thermostat}", state.word),
                None => "no call".to_owned(),
            })
            .collect();
        ledger.enter(
            Figure::text(id, listed(&on))
                .formula("calls at which the terminal is fed, safeties at rest")
                .source("the wiring run as switches and loads to its fixed point"),
        );
    }
}

/// Enters what only pages show of the truth table; nothing where part of the wiring is not known.
pub(in crate::systems) fn enter_table(model: &Model, catalog: &Catalog, ledger: &mut Ledger) {
    let net = Netlist::of(model, catalog);
    if !model.cables.is_empty() && !net.flawed {
        super::enter_runs::enter(&net, model, catalog, ledger);
    }
}

/// Enters the figures of the control wiring.
pub(in crate::systems) fn enter(model: &Model, catalog: &Catalog, ledger: &mut Ledger) {
    for cable in model.cables.values() {
        let item = cable
            .item
            .as_ref()
            .and_then(|item| catalog.cables.get(&item.value));
        let used = cable.wires.len() + cable.spares.len();
        let mut figure = Figure::count(format!("cable.{}.conductors-used", cable.name), used)
            .formula("wires and spare conductors of the cable, as given");
        for wire in &cable.wires {
            figure = figure.place(wire.span, wire.colour.value.clone());
        }
        ledger.enter(figure);
        if let Some((item, count)) = item.and_then(|item| Some((item, item.conductors.get()?))) {
            ledger.enter(
                Figure::count(format!("cable.{}.conductors", cable.name), count.0 as usize)
                    .formula("conductors that the cable has")
                    .place(item.conductors.span, "conductors")
                    .source("the stock's catalog"),
            );
        }
    }
    if model.cables.is_empty() {
        return;
    }
    let net = Netlist::of(model, catalog);
    for (n, point) in net.points() {
        let Place::Terminal { unit, head, .. } = &point.place else {
            continue;
        };
        if !matches!(point.call(), Some((CallSide::In, _))) {
            continue;
        }
        let id = format!("control.{}.driven-by", slug(&point.name));
        let figure = match net.drives(n).into_iter().next() {
            Some(drive) => {
                let mut figure = Figure::text(id, whole_path(&net, &drive));
                for (span, name) in words_on(&net, &drive.path) {
                    figure = figure.place(span, name);
                }
                figure
            }
            None => Figure::unknown(id, "nothing drives it").place(*head, unit.clone()),
        };
        ledger.enter(figure.formula("the conductors from the thermostat's call to the terminal"));
    }
    let circuit = Circuit::of(&net, model, catalog);
    enter_runs(&circuit, &net, ledger);
    if !net.flawed {
        super::times::enter(&circuit, &net, (model, catalog), ledger);
    }
    for unit in model.air_handlers.values() {
        load::enter(model, catalog, &net, unit, ledger);
    }
}
