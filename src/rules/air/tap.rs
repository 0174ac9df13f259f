//! Another tap of a unit at which what its maker asks of the air side holds.

use crate::figures::figure_id;
use crate::model::AirHandler;
use crate::quantity::{Dimension, show_pair};
use crate::rules::Job;
use crate::source::Span;

/// Whether airflow a ton and plenum pressure of a tap, as solved, lie in the catalog's ranges.
pub(super) fn tap_holds(job: &Job<'_>, unit: &AirHandler, tap: &str) -> bool {
    let real = |what: &str| {
        let id = figure_id(["air-handler.", &unit.name, ".", what, "@summer.tap", tap]);
        job.ledger.real(&id)
    };
    let (Some(per_ton), Some(plenum)) = (real("airflow-per-ton"), real("plenum-pressure")) else {
        return false;
    };
    let air = &unit.sheet.air;
    let within = |value: f64, ends: Option<(f64, f64)>| {
        ends.is_none_or(|(least, most)| least <= value && value <= most)
    };
    let flows = air.airflow_per_ton.get();
    let pressures = air.plenum_pressure.get();
    within(per_ton, flows.map(|r| (r.least.value(), r.most.value())))
        && within(plenum, pressures.map(|r| (r.least.value(), r.most.value())))
}

/// The first other tap that holds: the least that moves more air, or the most that moves less.
pub(super) fn other_tap(job: &Job<'_>, unit: &AirHandler, more: bool) -> Option<String> {
    let set = unit.tap.as_ref()?;
    let flow = |tap: &str| {
        let id = figure_id(["air-handler.", &unit.name, ".airflow@summer.tap", tap]);
        job.ledger.real(&id)
    };
    let now = flow(&set.value)?;
    let holding = unit
        .sheet
        .blower
        .taps
        .keys()
        .filter(|tap| **tap != set.value && tap_holds(job, unit, tap))
        .filter_map(|tap| Some((flow(tap)?, tap)))
        .filter(|(flow, _)| if more { *flow > now } else { *flow < now });
    let nearest = holding.min_by(|a, b| (a.0 - now).abs().total_cmp(&(b.0 - now).abs()));
    nearest.map(|(_, tap)| tap.clone())
}

/// Part of the blower's pressure from which the way back is what is named first: a quarter, common practice.
const MUCH: f64 = 0.25;

/// What to do first where the returns take much of what the blower gives, with the place of one.
pub(super) fn easier_return(job: &Job<'_>, unit: &AirHandler) -> Option<(String, Span)> {
    let external = job
        .ledger
        .real(&figure_id(["air-handler.", &unit.name, ".external-static"]))?;
    job.model.blocks("return").find_map(|entry| {
        let port = entry.text("port").known()?;
        (port.value.split('.').next() == Some(unit.name.as_str())).then_some(())?;
        let name = entry.text("name").known()?;
        let loss = job
            .ledger
            .real(&figure_id(["return.", &name.value, ".loss"]))?;
        (loss > MUCH * external).then(|| {
            let (loss, external) = show_pair(loss, external, Dimension::Pressure);
            let help = format!(
                "ease return `{}` first: it takes {} of the {} that the blower gives",
                name.value, loss.text, external.text
            );
            (help, entry.span)
        })
    })
}
