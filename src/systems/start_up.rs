//! What start-up reads against: the ranges and settings that an air handler's sheet states.

use crate::catalog::{AirHandler as Sheet, SafetyType, Standards, Stated};
use crate::figures::{Figure, Ledger};
use crate::model::Model;
use crate::quantity::{Dimension, Temperature};

use super::practice::Practice;

fn enter_range(sheet: &Sheet, id: &dyn Fn(&str) -> String, ledger: &mut Ledger) {
    let stated = &sheet.air.plenum_pressure;
    let Some(range) = stated.get() else {
        return;
    };
    for (what, end) in [("plenum-least", range.least), ("plenum-most", range.most)] {
        ledger.enter(
            Figure::number(id(what), end.value(), Dimension::Pressure)
                .formula("end of the range of pressure in the supply plenum that the sheet states")
                .place(stated.span, "plenum pressure")
                .source("the equipment's catalog"),
        );
    }
    let per_ton = &sheet.air.airflow_per_ton;
    let (Some(range), Some(tons)) = (per_ton.get(), sheet.tons()) else {
        return;
    };
    for (what, end) in [("airflow-least", range.least), ("airflow-most", range.most)] {
        ledger.enter(
            Figure::number(id(what), end.value() * tons, Dimension::AirFlow)
                .formula("end of the range of airflow per ton × nominal tons")
                .place(per_ton.span, "airflow per ton")
                .place(sheet.nominal.span, "nominal")
                .source("the equipment's catalog"),
        );
    }
}

fn enter_freeze(sheet: &Sheet, id: &dyn Fn(&str) -> String, ledger: &mut Ledger) {
    let Some(freeze) = sheet
        .safeties
        .values()
        .find(|safety| safety.type_of.get() == Some(SafetyType::Freeze))
    else {
        return;
    };
    let mut put = |what: &str, stated: Option<&Stated<Temperature>>| {
        let Some((stated, value)) = stated.and_then(|stated| Some((stated, stated.get()?))) else {
            return;
        };
        ledger.enter(
            Figure::number(id(what), value.value(), Dimension::Temperature)
                .formula("setting of the freeze cut-out that the sheet states")
                .place(stated.span, what)
                .source("the equipment's catalog"),
        );
    };
    put("freeze-opens", freeze.opens.as_ref());
    put("freeze-closes", freeze.closes.as_ref());
}

/// How far an outlet may read from what is expected, %.
const TOLERANCE: f64 = 10.0;

/// What each outlet may read at the least and at the most.
fn enter_outlets(model: &Model, standards: &Standards, ledger: &mut Ledger) {
    const OWN: &str = "start-up.outlet-tolerance";
    let rule = ("AIR015", "outlet_air_outside", "reading");
    let tolerance = Practice::of(standards, rule, Dimension::Ratio, TOLERANCE);
    let mut any = false;
    for run in model.runs.values() {
        let flow_id = format!("run.{}.airflow", run.name);
        let Some(flow) = ledger.real(&flow_id) else {
            continue;
        };
        any = true;
        for (end, sign, words) in [("least", -1.0, "less"), ("most", 1.0, "more")] {
            let figure = Figure::number(
                format!("run.{}.reading-{end}", run.name),
                flow * (1.0 + sign * tolerance.value / 100.0),
                Dimension::AirFlow,
            );
            ledger.enter(
                figure
                    .formula(format!("airflow, {words} the tolerance of a reading"))
                    .source(tolerance.source(BALANCED))
                    .input(flow_id.clone())
                    .input(OWN),
            );
        }
    }
    if any {
        let figure = Figure::number(OWN, tolerance.value, Dimension::Ratio)
            .formula("how far the reading of an outlet may lie from what is expected");
        ledger.enter(
            tolerance
                .cite(figure, &format!("{} %", tolerance.value))
                .source(tolerance.source(BALANCED)),
        );
    }
}

const BALANCED: &str = "common practice: balanced within 10 %";

/// Enters them for every air handler.
pub(super) fn enter(model: &Model, standards: &Standards, ledger: &mut Ledger) {
    for unit in model.air_handlers.values() {
        let id = |what: &str| format!("air-handler.{}.{what}", unit.name);
        enter_range(&unit.sheet, &id, ledger);
        enter_freeze(&unit.sheet, &id, ledger);
    }
    enter_outlets(model, standards, ledger);
}
