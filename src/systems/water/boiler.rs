//! What comes back to each boiler, and what is asked of it, once the air is solved.

use std::collections::BTreeMap;

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::model::{Boiler, Model};
use crate::quantity::Dimension;
use crate::systems::comfort::gap::{Gap, put};

use super::carry::Carry;
use super::flow::Found;

const BALANCE: &str = "heat balance of the water";

/// Enters the return of every loop and the state of every boiler.
pub(in crate::systems) fn enter(
    model: &Model,
    catalog: &Catalog,
    loops: &[Found<'_>],
    ledger: &mut Ledger,
) {
    for found in loops {
        back(model, found, ledger);
    }
    for boiler in model.water.boilers.values().filter(|boiler| !boiler.flawed) {
        state(model, catalog, (boiler, loops), ledger);
    }
}

/// The water of a loop as it comes back, and what its pipes lose.
fn back(model: &Model, found: &Found<'_>, ledger: &mut Ledger) {
    let (Some(flows), Ok((hot, span, words)), Ok(fluid)) =
        (&found.flows, &found.leaving, &found.fluid)
    else {
        return;
    };
    let known = |coil: &str| ledger.real(&format!("water-coil.{coil}.leaving-water"));
    let mut carry = Carry {
        laid: &found.laid,
        flows,
        fluid: *fluid,
        indoors: found.indoors,
        behind: &known,
        entering: BTreeMap::new(),
        lost: BTreeMap::new(),
    };
    let end = carry.through(&found.water.parts, *hot);
    let lost = std::mem::take(&mut carry.lost);
    for (name, heat) in &lost {
        if let Some(pipe) = model.water.pipes.get(name) {
            ledger.enter(
                Figure::number(format!("water-pipe.{name}.heat-loss"), *heat, Dimension::HeatFlow)
                    .formula("what its water loses on its way at winter design; a space whose winter temperature is not given counts as kept at the rooms' temperature")
                    .source("ASHRAE Handbook—Fundamentals, Heat Transfer")
                    .input(format!("water-pipe.{name}.flow"))
                    .input(format!("water-pipe.{name}.length"))
                    .input(format!("water-pipe.{name}.insulation"))
                    .place(pipe.span, format!("water pipe {name}")),
            );
        }
    }
    let id = format!("water-loop.{}.return-water", found.water.name);
    let gap = Gap::because("what its coils take is not known");
    let value = end
        .map(|end| Figure::number(id.clone(), end, Dimension::Temperature))
        .ok_or(&gap);
    put(ledger, id.clone(), value, |figure| {
        let mut figure = figure
            .formula("water behind its coils less what the pipes lose on the way back, mixed by flow where ways meet")
            .source(BALANCE)
            .place(*span, *words);
        for coil in found.water.coils() {
            figure = figure.input(format!("water-coil.{coil}.leaving-water"));
        }
        for pipe in lost.keys() {
            figure = figure.input(format!("water-pipe.{pipe}.heat-loss"));
        }
        figure
    });
}

fn state(
    model: &Model,
    catalog: &Catalog,
    (boiler, loops): (&Boiler, &[Found<'_>]),
    ledger: &mut Ledger,
) {
    let id = |what: &str| format!("boiler.{}.{what}", boiler.name);
    let own: Vec<&Found<'_>> = loops
        .iter()
        .filter(|l| l.water.boiler == boiler.name)
        .collect();
    if own.is_empty() {
        return;
    }
    let here = |figure: Figure| figure.place(boiler.span, format!("boiler {}", boiler.name));
    if let Some(water) = boiler.water {
        ledger.enter(
            Figure::number(id("water"), water.value, Dimension::Temperature)
                .formula("as the job states it")
                .source("the job")
                .place(water.span, "water of the boiler"),
        );
    }
    let (mut heat, mut flow) = (0.0, 0.0);
    let mut all = true;
    for found in &own {
        let (Some(flows), Some(end)) = (
            &found.flows,
            ledger.real(&format!("water-loop.{}.return-water", found.water.name)),
        ) else {
            all = false;
            continue;
        };
        heat += flows.whole * end;
        flow += flows.whole;
    }
    // Old radiators that say how cool their water comes back mix in; others are left out.
    let mut mixed = Vec::new();
    for radiators in model.water.radiators.values() {
        let own = format!("radiators.{}.flow", radiators.name);
        if let (Some(back), Some(gpm), true) = (
            radiators.returns,
            ledger.real(&own),
            radiators.boiler.value == boiler.name,
        ) {
            heat += gpm * back.value;
            flow += gpm;
            mixed.push((own, back.span));
        }
    }
    if all && flow > 0.0 {
        let mut figure = Figure::number(id("return-water"), heat / flow, Dimension::Temperature)
            .formula("water that its loops bring back, mixed by flow; that of old radiators only where the job says how warm it comes back")
            .source(BALANCE);
        for (own, span) in mixed {
            figure = figure.input(own).place(span, "returns");
        }
        for found in &own {
            figure = figure
                .input(format!("water-loop.{}.return-water", found.water.name))
                .input(format!("water-loop.{}.flow", found.water.name));
        }
        ledger.enter(here(figure));
    }
    let sheet = boiler
        .model
        .as_ref()
        .and_then(|named| catalog.boilers.get(&named.value));
    if let Some(output) = sheet.and_then(|sheet| sheet.output.get().zip(Some(sheet.output.span))) {
        ledger.enter(
            Figure::number(id("output"), output.0.value(), Dimension::HeatFlow)
                .formula("heat that it gives its water")
                .source("the equipment's catalog")
                .place(output.1, "output of the boiler"),
        );
    }
    demand(model, (boiler, &own), ledger);
}

/// What is asked of a boiler: of each coil what its rooms lose, as far as it can give it; radiators; cold pipes.
fn demand(model: &Model, (boiler, own): (&Boiler, &[&Found<'_>]), ledger: &mut Ledger) {
    let id = |what: &str| format!("boiler.{}.{what}", boiler.name);
    let mut sum = 0.0;
    let mut inputs: Vec<String> = Vec::new();
    let mut gap: Option<Gap> = None;
    for found in own {
        for coil in found.water.coils() {
            let Some(coil) = model.water.coils.get(coil) else {
                continue;
            };
            let unit = &coil.unit.value;
            // A unit's heat counts once.
            let first = model.water.coil_in(unit);
            if first.is_some_and(|first| first.name != coil.name) {
                continue;
            }
            let (gives, asked) = (format!("heat.{unit}.total"), format!("load.{unit}.heating"));
            match (ledger.real(&gives), ledger.real(&asked)) {
                (Some(most), Some(load)) => {
                    sum += load.min(most);
                    inputs.extend([gives, asked]);
                }
                (Some(most), None) => {
                    sum += most;
                    inputs.push(gives);
                }
                (None, _) => {
                    gap = Some(Gap::because(
                        ledger
                            .reason(&gives)
                            .unwrap_or("what its coil gives is not known"),
                    ));
                }
            }
        }
        for pipe in found.water.pipes() {
            let lost = format!("water-pipe.{pipe}.heat-loss");
            if let Some(heat) = ledger.real(&lost) {
                sum += heat.max(0.0);
                inputs.push(lost);
            }
        }
    }
    for radiators in model.water.radiators.values() {
        if radiators.boiler.value == boiler.name {
            let heat = format!("radiators.{}.heat@winter", radiators.name);
            match ledger.real(&heat) {
                Some(given) => {
                    sum += given;
                    inputs.push(heat);
                }
                None => gap = Some(Gap::because("what its radiators give is not known")),
            }
        }
    }
    let value = match &gap {
        Some(gap) => Err(gap),
        None => Ok(Figure::number(id("asked"), sum, Dimension::HeatFlow)),
    };
    put(ledger, id("asked"), value, |figure| {
        inputs.iter().fold(
            figure
                .formula("of each coil the heat that its rooms lose, as far as the coil can give it; what old radiators give; what pipes lose")
                .source(BALANCE)
                .place(boiler.span, format!("boiler {}", boiler.name)),
            |figure, id| figure.input(id.clone()),
        )
    });
    if let (None, Some(output)) = (&gap, ledger.real(&id("output")))
        && sum > 0.0
    {
        ledger.enter(
            Figure::number(id("share"), 100.0 * output / sum, Dimension::Ratio)
                .formula("what the boiler gives ÷ what is asked of it")
                .source(BALANCE)
                .input(id("output"))
                .input(id("asked")),
        );
    }
}
