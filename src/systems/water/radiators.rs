//! Heat that old radiators give in each room at winter design.

use crate::figures::{Figure, Ledger};
use crate::model::{Model, Radiators};
use crate::quantity::Dimension;
use crate::source::Span;
use crate::systems::comfort::design::{Design, Season};
use crate::systems::comfort::gap::{Gap, put};

use super::carry::rate;
use super::stated::{fluid, liquid};

const SOURCE: &str = "EN 442: output with the difference of water and room to the power of 1.3; the water as it enters";

/// Id of what radiators give in a room.
pub(in crate::systems) fn id(room: &str) -> String {
    format!("room.{room}.radiators@winter")
}

/// Enters the heat of every room that keeps a radiator, and of every loop of them.
pub(super) fn enter(model: &Model, ledger: &mut Ledger) {
    let Ok(design) = Design::of(model, Season::Winter) else {
        return;
    };
    let indoors = design.indoor.value;
    for radiators in model.water.radiators.values().filter(|one| !one.flawed) {
        let water = model.water.boiler_water(&radiators.boiler.value);
        let factor = match (water, radiators.rated) {
            (Some(water), Some(rated)) if rated.value > indoors => libm::pow(
                ((water.value - indoors) / (rated.value - indoors)).max(0.0),
                1.3,
            ),
            _ => 1.0,
        };
        let mut places: Vec<(Span, &str)> = Vec::new();
        if let (Some(water), Some(rated)) = (water, radiators.rated) {
            places.extend([
                (water.span, "water of the boiler"),
                (rated.span, "rated water"),
            ]);
        }
        let mut sum = 0.0;
        for (room, heat) in &radiators.rooms {
            let given = heat.value * factor;
            sum += given;
            let own = id(&room.value);
            let all = given + ledger.real(&own).unwrap_or(0.0);
            let before: Vec<(Span, String)> = ledger
                .get(&own)
                .map(|figure| {
                    figure
                        .places()
                        .map(|(span, text)| (span, text.to_owned()))
                        .collect()
                })
                .unwrap_or_default();
            let mut figure = Figure::number(own, all, Dimension::HeatFlow)
                .formula("heat stated × ((boiler's water − room) ÷ (rated water − room))^1.3; as stated where no rated water is given")
                .source(SOURCE)
                .place(heat.span, format!("radiators in {}", room.value));
            for (span, text) in before {
                figure = figure.place(span, text);
            }
            for (span, words) in &places {
                figure = figure.place(*span, *words);
            }
            ledger.enter(figure);
        }
        ledger.enter(
            Figure::number(
                format!("radiators.{}.heat@winter", radiators.name),
                sum,
                Dimension::HeatFlow,
            )
            .formula("sum over its rooms")
            .source(SOURCE)
            .place(radiators.span, format!("radiators {}", radiators.name)),
        );
        flow(model, (radiators, sum), ledger);
    }
}

/// Enters the flow that gives the heat of a loop of radiators between the boiler's water and what comes back.
fn flow(model: &Model, (radiators, heat): (&Radiators, f64), ledger: &mut Ledger) {
    let boiler = &radiators.boiler.value;
    let (Some(hot), Some(back)) = (model.water.boiler_water(boiler), radiators.returns) else {
        return;
    };
    let shared = model
        .water
        .loops
        .iter()
        .find(|water| water.boiler == *boiler);
    let fluid = shared.map_or_else(|| fluid(None), |water| liquid(model, water));
    let drop = hot.value - back.value;
    let carried = if drop > 0.0 {
        fluid.and_then(|fluid| {
            rate(fluid, f64::midpoint(hot.value, back.value), 1.0)
                .ok_or_else(|| Gap::because("their water is not liquid at these temperatures"))
        })
    } else {
        Err(Gap::because(
            "their water is said to come back no cooler than it leaves the boiler",
        ))
    };
    let id = format!("radiators.{}.flow", radiators.name);
    let value = carried
        .as_ref()
        .map(|carried| Figure::number(id.clone(), heat / (carried * drop), Dimension::WaterFlow));
    put(ledger, id.clone(), value, |figure| {
        figure
            .formula(
                "heat ÷ (density × specific heat × (water of the boiler − water that comes back))",
            )
            .source("heat balance of the water")
            .input(format!("radiators.{}.heat@winter", radiators.name))
            .place(hot.span, "water of the boiler")
            .place(back.span, "returns")
    });
}
