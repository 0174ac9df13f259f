//! Enters what drives each call terminal, and how many conductors of each cable are used.

use crate::catalog::{CallSide, Catalog};
use crate::figures::{Figure, Ledger};
use crate::model::Model;
use crate::source::Span;

use super::{Drive, Driver, Netlist, Place, load};

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
        let id = format!(
            "control.{}.driven-by",
            point.name.to_lowercase().replace(' ', "-")
        );
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
    for unit in model.air_handlers.values() {
        load::enter(model, catalog, &net, unit, ledger);
    }
}
