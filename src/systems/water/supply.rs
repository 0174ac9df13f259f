//! How warm hot-water coils make their air, as the densities of winter's air need it before the airflow is solved.

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::model::Model;
use crate::quantity::Dimension;
use crate::source::Span;
use crate::systems::comfort::design::{Design, Season};

/// Heat of standard air, 60 × 0.075 × 0.24 Btu/(h·°F) for each cfm.
const STANDARD_AIR: f64 = 1.08;
/// Id of the figure.
pub(in crate::systems) const WARMED: &str = "air.warmed-to@winter";

/// Enters the air behind the coils at their rated airflow and the water that reaches them, a mean where there are
/// several; nothing where no coil is known so far.
pub(super) fn enter(model: &Model, catalog: &Catalog, ledger: &mut Ledger) {
    let Ok(design) = Design::of(model, Season::Winter) else {
        return;
    };
    let indoors = design.indoor.value;
    let mut found: Vec<(f64, String, Span)> = Vec::new();
    for coil in model.water.coils.values().filter(|coil| !coil.flawed) {
        let id = format!("water-coil.{}.entering-water", coil.name);
        let sheet = coil
            .model
            .as_ref()
            .and_then(|named| catalog.water_coils.get(&named.value));
        let rated = sheet.and_then(|sheet| {
            let rated = &sheet.rated;
            let apart = rated.entering_water.get()?.value() - rated.entering_air.get()?.value();
            let rise = rated.output.get()?.value() / (STANDARD_AIR * rated.airflow.get()?.value());
            (apart > 0.0).then_some((rise / apart, rated.output.span))
        });
        if let (Some(water), Some((share, span))) = (ledger.real(&id), rated) {
            found.push((indoors + share * (water - indoors), id, span));
        }
    }
    if found.is_empty() {
        return;
    }
    let mean = found.iter().map(|(t, ..)| t).sum::<f64>() / found.len() as f64;
    let mut figure = Figure::number(WARMED, mean, Dimension::Temperature)
        .formula("room + rated rise of the air × (water that reaches the coil − room) ÷ (rated water − rated air), a mean over the coils; only densities rest on it")
        .source("the equipment's catalog")
        .place(design.indoor.span, "winter indoor temperature");
    for (_, id, span) in found {
        figure = figure.input(id).place(span, "rated output of the coil");
    }
    ledger.enter(figure);
}
