//! Suction in the cabinet at the drain pan, on the catalog's curve at the solved airflow.

use crate::catalog::{AirPoint, Stated};
use crate::figures::{Figure, Ledger};
use crate::model::AirHandler;
use crate::quantity::{Dimension, Pressure, number_text};
use crate::source::Span;
use crate::systems::curve::read_off;

use super::operating::Point;

/// Enters a suction at the pan read at the airflow of `flow_id`.
pub(super) fn enter(
    unit: &AirHandler,
    (id, flow_id, density_id): (String, &str, &str),
    (filter, curve): (&str, Option<&Vec<Stated<AirPoint>>>),
    (point, rated): (&Point, f64),
    ledger: &mut Ledger,
) {
    let formula = format!(
        "suction on the catalog's curve for a {filter} filter at the solved airflow, from the rooms on, on the straight line between its nearest points, × density over 0.075 lb/ft³"
    );
    let stated = curve.filter(|points| !points.is_empty());
    let Some(points) = stated else {
        ledger.enter(
            Figure::unknown(
                id,
                format!("the catalog gives no suction at the pan with a {filter} filter"),
            )
            .formula(formula)
            .place(unit.sheet.suction.span, "suction"),
        );
        return;
    };
    let flow = point.airflow.value();
    let figure = match read_off(points, flow, |p| (p.flow.value(), p.pressure.value().abs())) {
        Some(read) => {
            let [(low, low_text), (high, high_text)] = read.points;
            Figure::number(id, read.value * rated, Dimension::Pressure)
                .place(low, low_text)
                .place(high, high_text)
                .source("the equipment's catalog; density by the fan laws")
        }
        None => Figure::unknown(
            id,
            format!(
                "{} cfm lies beyond the catalog's curve of suction",
                number_text(flow, 0)
            ),
        )
        .place(unit.sheet.suction.span, "suction"),
    };
    ledger.enter(figure.formula(formula).input(flow_id).input(density_id));
}

/// Enters the suction with a dirty filter where the return holds it: the maker's curve for a dirty filter, or
/// that for a clean one and what the filter takes more, whichever is more.
pub(super) fn enter_dirty_return(
    unit: &AirHandler,
    id: &str,
    flow_id: &str,
    (point, rated): (&Point, f64),
    (more, rests): (Pressure, &[(Span, String)]),
    ledger: &mut Ledger,
) {
    let Some(points) = unit.sheet.suction.clean.as_deref() else {
        return;
    };
    let flow = point.airflow.value();
    let Some(read) = read_off(points, flow, |p| (p.flow.value(), p.pressure.value().abs())) else {
        return;
    };
    let suction = read.value * rated + more.value();
    if ledger.real(id).is_some_and(|by_curve| by_curve >= suction) {
        return;
    }
    let [(low, low_text), (high, high_text)] = read.points;
    let mut figure = Figure::number(id, suction, Dimension::Pressure)
        .formula("suction on the catalog's curve for a clean filter at the airflow with a dirty one, × density over 0.075 lb/ft³, + what the filter in the return takes more at its change than clean")
        .source("the equipment's catalog; density by the fan laws")
        .input(flow_id)
        .place(low, low_text)
        .place(high, high_text);
    for (span, words) in rests {
        figure = figure.place(*span, words.clone());
    }
    ledger.enter(figure);
}
