//! How high a loop stands over its boiler, and the cold fill that this asks for.

use std::collections::BTreeMap;

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::model::{Model, WaterLoop};
use crate::physics::water_loop::fill_pressure;
use crate::quantity::{Dimension, Length};

use super::place::ports;

/// Enters height and fill of a loop; `starts` holds the height at which each pipe starts.
pub(super) fn enter(
    model: &Model,
    catalog: &Catalog,
    water: &WaterLoop,
    starts: &BTreeMap<String, Length>,
    ledger: &mut Ledger,
) {
    let id = |what: &str| format!("water-loop.{}.{what}", water.name);
    let boiler = model.equipment.get(&water.boiler);
    let mut tops: Vec<Length> = Vec::new();
    for (name, start) in starts {
        let Some(pipe) = model.water.pipes.get(name) else {
            continue;
        };
        let mut z = *start;
        tops.push(z);
        for leg in &pipe.legs {
            z += leg.climb;
            tops.push(z);
        }
    }
    for coil in water.coils() {
        if let Some((supply, back)) = ports(model, catalog, coil) {
            tops.extend([supply, back]);
        }
    }
    let base = boiler.and_then(|boiler| boiler.point).map(|point| point.z);
    if let (Some(top), Some(base), Some(boiler)) = (tops.into_iter().max(), base, boiler) {
        ledger.enter(
            Figure::length(id("height"), top - base)
                .formula("highest point of its pipes and coils above the boiler's base")
                .place(boiler.span, format!("boiler {}", boiler.name)),
        );
        ledger.enter(
            Figure::number(
                id("fill-needed"),
                fill_pressure(top - base),
                Dimension::WaterPressure,
            )
            .formula("height × 0.433 psi per ft of cold water, and 4 psi over it at the top")
            .source("hydrostatics; 4 psi at the top is common practice")
            .input(id("height")),
        );
    }
}
