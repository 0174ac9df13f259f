//! What an air handler's 24 V transformer carries.

use crate::catalog::{Call, CallSide, Catalog, Role};
use crate::figures::{Figure, Ledger};
use crate::model::{AirHandler, Equipment, Model};
use crate::quantity::{ApparentPower, Dimension};
use crate::source::Span;

use super::{Driver, Netlist, Place};

/// A load on the transformer.
struct Load {
    va: f64,
    call: Option<Call>,
    span: Span,
    what: String,
}

/// Whether equipment brings a transformer of its own.
fn feeds_itself(catalog: &Catalog, unit: &Equipment) -> bool {
    let Some(model) = &unit.model else {
        return false;
    };
    let boiler = catalog.boilers.get(&model.value);
    let chiller = catalog.chillers.get(&model.value);
    boiler
        .map(|sheet| &sheet.own_transformer)
        .or(chiller.map(|sheet| &sheet.own_transformer))
        .is_some_and(|own| own.get() == Some(true))
}

/// Whether two terminals, the first named by its role and unit, are joined.
fn on_rail(net: &Netlist, point: usize, role: Role, unit: &str) -> bool {
    net.members(net.net(point))
        .any(|(_, member)| member.role() == Some(role) && member.unit() == Some(unit))
}

/// The call by which `unit`'s transformer feeds `point`: given by a thermostat on its hot side or by its own output, with
/// the way back to its common.
fn driven(net: &Netlist, point: usize, unit: &AirHandler) -> Option<Call> {
    let of = |n: usize| net.at(n).and_then(super::Point::unit);
    let beside = |role: Role| {
        net.points()
            .filter(move |(n, other)| {
                *n != point && other.unit() == of(point) && other.role() == Some(role)
            })
            .map(|(n, _)| n)
    };
    let back: Vec<usize> = beside(Role::Common).chain(beside(Role::Coil)).collect();
    if !back.is_empty()
        && !back
            .iter()
            .any(|n| on_rail(net, *n, Role::Common, &unit.name))
    {
        return None;
    }
    let fed = |from: usize| {
        net.points().any(|(n, other)| {
            other.unit() == of(from)
                && other.role() == Some(Role::PowerIn)
                && on_rail(net, n, Role::Power, &unit.name)
        })
    };
    net.drives(point)
        .into_iter()
        .find(|drive| {
            let Some(last) = drive.path.last().copied() else {
                return false;
            };
            drive.driver == Driver::Thermostat && fed(last)
                || drive.driver == Driver::Output && of(last) == Some(&unit.name)
        })
        .and_then(|drive| drive.call)
}

fn loads(model: &Model, catalog: &Catalog, net: &Netlist, unit: &AirHandler) -> Vec<Load> {
    let mut out = Vec::new();
    for (name, terminal) in unit.sheet.control.iter() {
        let Some((stated, load)) = terminal.load.as_ref().and_then(|l| Some((l, l.get()?))) else {
            continue;
        };
        out.push(Load {
            va: load.value(),
            call: terminal
                .role
                .get()
                .and_then(Role::call)
                .map(|(_, call)| call),
            span: stated.span,
            what: format!("{}.{name}", unit.name),
        });
    }
    let nets = |role: Role| -> Vec<usize> {
        net.points()
            .filter(|(_, point)| point.role() == Some(role) && point.unit() == Some(&unit.name))
            .map(|(n, _)| net.net(n))
            .collect()
    };
    let (power, common) = (nets(Role::Power), nets(Role::Common));
    for (n, point) in net.points() {
        let Place::Terminal {
            unit: owner, role, ..
        } = &point.place
        else {
            continue;
        };
        let Some(equipment) = model.equipment.get(owner) else {
            continue;
        };
        let sheet = equipment.model.as_ref().map(|model| model.value.as_str());
        if *role == Some(Role::PowerIn) && power.contains(&net.net(n)) {
            let stated = sheet
                .and_then(|sheet| catalog.thermostats.get(sheet))
                .map(|s| &s.load);
            if let Some((stated, load)) = stated.and_then(|l| Some((l, l.get()?))) {
                out.push(Load {
                    va: load.value(),
                    call: None,
                    span: stated.span,
                    what: owner.clone(),
                });
            }
        }
        let is_coil = *role == Some(Role::Coil);
        let is_call = matches!(point.call(), Some((CallSide::In, _)));
        if !(is_coil || is_call && !feeds_itself(catalog, equipment)) {
            continue;
        }
        // The end of a coil that lies on common drives nothing.
        if common.contains(&net.net(n)) {
            continue;
        }
        let Some(call) = driven(net, n, unit) else {
            continue;
        };
        let terminals = equipment.terminals.as_ref();
        let stated = if is_coil {
            sheet
                .and_then(|sheet| catalog.relays.get(sheet))
                .map(|s| &s.coil)
        } else {
            let name = point.name.split_once('.').map_or("", |(_, name)| name);
            terminals
                .and_then(|terminals| terminals.get(name))
                .and_then(|terminal| terminal.load.as_ref())
        };
        if let Some((stated, load)) = stated.and_then(|l| Some((l, l.get()?))) {
            out.push(Load {
                va: load.value(),
                call: Some(call),
                span: stated.span,
                what: point.name.clone(),
            });
        }
    }
    out
}

/// Enters rating, load and share of one unit's transformer: cooling and heat are never called at once.
pub(super) fn enter(
    model: &Model,
    catalog: &Catalog,
    net: &Netlist,
    unit: &AirHandler,
    ledger: &mut Ledger,
) {
    let id = |what: &str| format!("control.{}.transformer-{what}", unit.name);
    let transformer = &unit.sheet.transformer;
    let (Some(rating), Some(own)) = (
        transformer.rating.get().map(ApparentPower::value),
        transformer.own_load.get().map(ApparentPower::value),
    ) else {
        let reason = "the catalog does not give the transformer's rating and own load";
        ledger.enter(
            Figure::unknown(id("load"), reason).formula("what the 24 V transformer carries"),
        );
        return;
    };
    let all = loads(model, catalog, net, unit);
    let sum = |wanted: &dyn Fn(Option<Call>) -> bool| -> f64 {
        all.iter()
            .filter(|load| wanted(load.call))
            .map(|load| load.va)
            .sum()
    };
    let always = sum(&|call| matches!(call, None | Some(Call::Fan)));
    let cool = sum(&|call| {
        matches!(
            call,
            Some(Call::Cool | Call::Cool2 | Call::Dehumidify | Call::Reversing)
        )
    });
    let heat = sum(&|call| {
        matches!(
            call,
            Some(Call::Heat | Call::Heat2 | Call::Emergency | Call::Reversing)
        )
    });
    let total = own + always + cool.max(heat);
    let mut figure = Figure::number(id("load"), total, Dimension::ApparentPower)
        .formula("the unit's own load + thermostat + fan + the greater of all cooling and all heating loads")
        .place(transformer.own_load.span, "own load")
        .source("the equipment's catalog");
    for load in &all {
        figure = figure.place(load.span, load.what.clone());
    }
    ledger.enter(figure);
    ledger.enter(
        Figure::number(id("rating"), rating, Dimension::ApparentPower)
            .formula("rating of the unit's 24 V transformer")
            .place(transformer.rating.span, "rating")
            .source("the equipment's catalog"),
    );
    if rating > 0.0 {
        ledger.enter(
            Figure::number(id("share"), 100.0 * total / rating, Dimension::Ratio)
                .formula("load ÷ rating")
                .input(id("load"))
                .input(id("rating")),
        );
    }
}
