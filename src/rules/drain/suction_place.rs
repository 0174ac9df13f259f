//! Where the suction at a drain's pan comes from, as a second place of findings about its trap.

use crate::model::Drain;
use crate::quantity::{Dimension, number_text, show_real};
use crate::rules::Job;
use crate::source::Span;

/// The place of the suction that governs, with what it says.
pub(super) fn suction_place(job: &Job<'_>, drain: &Drain) -> Option<(Span, String)> {
    let unit = job.model.air_handlers.get(&drain.unit)?;
    let of = |what: &str| {
        job.ledger
            .real(&format!("air-handler.{}.{what}", unit.name))
    };
    let governing = of("pan-suction")?;
    let suction = show_real(governing, Dimension::Pressure).text;
    let is = |what| of(what).is_some_and(|value| value.to_bits() == governing.to_bits());
    if let (true, Some(measured)) = (is("pan-suction@clean"), unit.suction) {
        return Some((measured.span, format!("measured suction, {suction}")));
    }
    let filter = if is("pan-suction@dirty") {
        "dirty"
    } else {
        "clean"
    };
    let solved = if filter == "dirty" {
        "airflow-dirty"
    } else {
        "airflow"
    };
    let flow = of("airflow")
        .and_then(|_| of(solved))
        .or_else(|| of("design-airflow"))?;
    let flow = number_text(flow, 0);
    Some((
        unit.sheet.suction.span,
        format!("suction at the pan: {suction} at {flow} cfm with a {filter} filter"),
    ))
}

/// Whether the unit's pan stands under pressure instead of suction.
pub(super) fn under_pressure(job: &Job<'_>, drain: &Drain) -> bool {
    let id = format!("air-handler.{}.pan-suction", drain.unit);
    job.ledger.real(&id).is_some_and(|suction| suction < 0.0)
}
