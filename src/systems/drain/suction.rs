//! Suction in the cabinet at the drain pan: measured, or at the solved airflow; where the circuit is not solved,
//! on the catalog's curve at the design airflow.

use crate::catalog::{AirPoint, BlowerType, Stated};
use crate::figures::{Figure, FigureValue, Ledger};
use crate::model::AirHandler;
use crate::quantity::{Dimension, number_text};
use crate::systems::curve::read_off;

/// The airflow at which the unit runs by its catalog: the set tap at the design pressure, else the design airflow.
fn airflow(unit: &AirHandler) -> Figure {
    let id = format!("air-handler.{}.design-airflow", unit.name);
    let design = &unit.sheet.design;
    let Some((word, tap)) = unit
        .tap
        .as_ref()
        .and_then(|word| Some((word, unit.sheet.blower.taps.get(&word.value)?)))
    else {
        let formula = "airflow of the catalog's design point";
        return match design.airflow.get() {
            Some(flow) => Figure::number(id, flow.value(), Dimension::AirFlow)
                .formula(formula)
                .place(design.airflow.span, "design airflow")
                .source("the equipment's catalog"),
            None => Figure::unknown(id, design.airflow.reason().unwrap_or("not given"))
                .formula(formula)
                .place(design.airflow.span, "design airflow"),
        };
    };
    if unit.sheet.blower.type_of.get() == Some(BlowerType::ConstantAirflow) {
        let formula = "airflow that the motor holds at the set tap";
        return match tap
            .holds
            .as_ref()
            .and_then(|holds| Some((holds, holds.get()?)))
        {
            Some((holds, flow)) => Figure::number(id, flow.value(), Dimension::AirFlow)
                .formula(formula)
                .place(word.span, format!("tap {}", word.value))
                .place(holds.span, "holds")
                .source("the equipment's catalog"),
            None => Figure::unknown(id, "the catalog gives no airflow for the set tap")
                .formula(formula)
                .place(word.span, format!("tap {}", word.value)),
        };
    }
    let formula = "airflow of the set tap at the design point's external static pressure, on the catalog's curve";
    let read = design.external_static.get().and_then(|pressure| {
        read_off(tap.points.as_deref()?, pressure.value(), |point| {
            (point.pressure.value(), point.flow.value())
        })
    });
    let figure = match read {
        Some(read) => {
            let [(low, low_text), (high, high_text)] = read.points;
            Figure::number(id, read.value, Dimension::AirFlow)
                .place(low, low_text)
                .place(high, high_text)
                .source("the equipment's catalog")
        }
        None => Figure::unknown(
            id,
            "the set tap's curve does not reach the design point's pressure",
        ),
    };
    figure
        .formula(formula)
        .place(word.span, format!("tap {}", word.value))
        .place(design.external_static.span, "design external static")
}

/// Suction on one of the catalog's curves.
fn on_curve(
    unit: &AirHandler,
    filter: &str,
    curve: Option<&Vec<Stated<AirPoint>>>,
    flow: &Figure,
) -> Figure {
    let id = format!("air-handler.{}.pan-suction@{filter}", unit.name);
    let formula = format!(
        "suction on the catalog's curve for a {filter} filter at the airflow, on the straight line between its nearest points"
    );
    let Some(points) = curve.filter(|points| !points.is_empty()) else {
        return Figure::unknown(
            id,
            format!("the catalog gives no suction at the pan with a {filter} filter"),
        )
        .formula(formula)
        .place(unit.sheet.suction.span, "suction");
    };
    let Some(cfm) = flow.real() else {
        return Figure::unknown(id, "the airflow is not known")
            .formula(formula)
            .input(flow.id.clone());
    };
    match read_off(points, cfm, |point| {
        (point.flow.value(), point.pressure.value())
    }) {
        Some(read) => {
            let [(low, low_text), (high, high_text)] = read.points;
            Figure::number(id, read.value, Dimension::Pressure)
                .formula(formula)
                .input(flow.id.clone())
                .place(low, low_text)
                .place(high, high_text)
                .source("the equipment's catalog")
        }
        None => Figure::unknown(
            id,
            format!(
                "{} cfm lies beyond the catalog's curve of suction",
                number_text(cfm, 0)
            ),
        )
        .formula(formula)
        .input(flow.id.clone())
        .place(unit.sheet.suction.span, "suction"),
    }
}

/// Enters airflow and suction at the pan, with a clean filter, a dirty one, and the greater of the two.
pub(super) fn enter(unit: &AirHandler, ledger: &mut Ledger) {
    let name = &unit.name;
    let flow = airflow(unit);
    let curves = &unit.sheet.suction;
    let solved = ledger
        .real(&format!("air-handler.{name}.airflow"))
        .is_some();
    let of_circuit = |filter: &str, what: &str| {
        let of = ledger.get(&format!("air-handler.{name}.{what}"))?;
        let id = format!("air-handler.{name}.pan-suction@{filter}");
        let figure = match &of.value {
            FigureValue::Number(suction, dimension) => Figure::number(id, *suction, *dimension),
            FigureValue::Unknown(reason) => Figure::unknown(id, reason.clone()),
            _ => return None,
        };
        Some(
            figure
                .formula("suction in the cabinet at the solved airflow")
                .source(of.source.clone())
                .input(of.id.clone()),
        )
    };
    let on_curve = |filter: &str, what: &str, curve: Option<&Vec<Stated<AirPoint>>>| {
        of_circuit(filter, what)
            .filter(|_| solved)
            .unwrap_or_else(|| on_curve(unit, filter, curve, &flow))
    };
    if let Some(pressure) = unit.pressure {
        ledger.enter(flow);
        for end in ["@clean", "@dirty", ""] {
            ledger.enter(
                Figure::number(
                    format!("air-handler.{name}.pan-suction{end}"),
                    -pressure.value.abs(),
                    Dimension::Pressure,
                )
                .formula("pressure measured at the pan: below zero as a suction")
                .place(pressure.span, "pan-pressure")
                .source("measured on site"),
            );
        }
        return;
    }
    let clean = match unit.suction {
        Some(measured) => Figure::number(
            format!("air-handler.{name}.pan-suction@clean"),
            measured.value.abs(),
            Dimension::Pressure,
        )
        .formula("suction measured at the pan")
        .place(measured.span, "suction")
        .source("measured on site"),
        None => on_curve("clean", "cabinet-suction", curves.clean.as_ref()),
    };
    let dirty = on_curve("dirty", "cabinet-suction-dirty", curves.dirty.as_ref());
    let id = format!("air-handler.{name}.pan-suction");
    let greater = [&clean, &dirty]
        .into_iter()
        .filter_map(|figure| figure.real().map(|suction| (suction, figure)))
        .max_by(|a, b| a.0.total_cmp(&b.0));
    let whole = match greater {
        Some((suction, of)) => {
            Figure::number(id, suction, Dimension::Pressure).source(of.source.clone())
        }
        None => {
            let reason = match &clean.value {
                FigureValue::Unknown(reason) => reason.clone(),
                _ => String::new(),
            };
            Figure::unknown(id, reason)
        }
    }
    .formula("the greater of the suction with a clean and with a dirty filter, as far as known")
    .input(clean.id.clone())
    .input(dirty.id.clone());
    for figure in [flow, clean, dirty, whole] {
        ledger.enter(figure);
    }
}
