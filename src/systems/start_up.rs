//! What start-up reads against: the ranges and settings that an air handler's sheet states.

use crate::catalog::{AirHandler as Sheet, SafetyType, Stated};
use crate::figures::{Figure, Ledger};
use crate::model::Model;
use crate::quantity::{Dimension, Temperature};

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

/// Enters them for every air handler.
pub(super) fn enter(model: &Model, ledger: &mut Ledger) {
    for unit in model.air_handlers.values() {
        let id = |what: &str| format!("air-handler.{}.{what}", unit.name);
        enter_range(&unit.sheet, &id, ledger);
        enter_freeze(&unit.sheet, &id, ledger);
    }
}
