//! Enters what flows in every loop, its heads, and the water that reaches each coil.

use std::collections::BTreeMap;

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::model::{Model, WaterCoil, WaterLoop};
use crate::physics::fluid::Fluid;
use crate::quantity::{Dimension, Length};
use crate::source::{Span, Spanned};
use crate::systems::comfort::design::{Design, Season};
use crate::systems::comfort::gap::{Gap, put};

use super::carry::Carry;
use super::freeze;
use super::loops::{Flows, Unsolved, solve};
use super::pipe::{FITTINGS, Laid, enter as enter_pipe, laid};
use super::place::{at_boiler, ports, starts};
use super::radiators;
use super::stated::{leaving, liquid};
use super::supply;

const WARMTH: &str = "ASHRAE Handbook—Fundamentals, Heat Transfer: exponential approach, insulation, still air outside";
const COIL_LOSS: &str =
    "the coil's rated loss × (flow ÷ rated flow)^1.75, with density and viscosity by Blasius";

/// A loop with what was found of it.
pub(in crate::systems) struct Found<'m> {
    pub(super) water: &'m WaterLoop,
    pub(super) laid: BTreeMap<String, Result<Laid, Gap>>,
    pub(super) flows: Option<Flows>,
    pub(super) leaving: Result<(f64, Span, &'static str), Gap>,
    pub(super) fluid: Result<Fluid, Gap>,
    pub(super) indoors: f64,
}

/// Indoors in winter where the job does not say, °F: common practice.
const USUAL_INDOORS: f64 = 70.0;

/// Every loop, then every coil, before the air is solved.
pub(in crate::systems) fn enter<'m>(
    model: &'m Model,
    catalog: &Catalog,
    ledger: &mut Ledger,
) -> Vec<Found<'m>> {
    radiators::enter(model, ledger);
    let design = Design::of(model, Season::Winter).ok();
    let mut out: Vec<Found<'m>> = Vec::new();
    for water in &model.water.loops {
        let found = one((model, catalog), water, design.as_ref(), ledger);
        out.push(found);
    }
    for coil in model.water.coils.values() {
        asked(coil, ledger);
        let in_loop = model.water.loop_of(&coil.name).is_some();
        freeze::enter(model, coil, &out, ledger);
        if !in_loop {
            as_stated(model, coil, ledger);
        }
        let first = model.water.coil_in(&coil.unit.value);
        if let Some(first) = first.filter(|first| first.name != coil.name) {
            let gap = Gap::because(format!(
                "`{}` stands in the same unit: two coils one behind the other are not reckoned",
                first.name
            ));
            let id = format!("water-coil.{}.leaving-water", coil.name);
            put(ledger, id, Err(&gap), |figure| {
                figure
                    .formula("water behind the coil")
                    .source("heat balance of the water")
                    .place(coil.span, format!("water coil {}", coil.name))
            });
        }
    }
    supply::enter(model, catalog, ledger);
    out
}

fn one<'m>(
    (model, catalog): (&'m Model, &Catalog),
    water: &'m WaterLoop,
    design: Option<&Design>,
    ledger: &mut Ledger,
) -> Found<'m> {
    let starts = starts(model, catalog, water);
    let hot = leaving(model, water);
    let mut pipes = BTreeMap::new();
    for name in water.pipes() {
        let Some(pipe) = model.water.pipes.get(name) else {
            continue;
        };
        let start = starts.get(name).copied();
        let found = laid(model, catalog, (pipe, start), design);
        if let Ok(laid) = &found {
            let degrees = hot.as_ref().ok().map(|(value, ..)| *value);
            enter_pipe(catalog, pipe, (laid, degrees), ledger);
            at_boiler(water, pipe, start, ledger);
        }
        pipes.insert(name.to_owned(), found);
    }
    let fluid = liquid(model, water);
    let indoors = design.map_or(USUAL_INDOORS, |design| design.indoor.value);
    let solved = match (&hot, &fluid) {
        (Ok((degrees, ..)), Ok(fluid)) => {
            solve((model, catalog), water, &pipes, (*fluid, *degrees))
        }
        (Err(gap), _) | (_, Err(gap)) => Err(Unsolved::Gap(gap.clone())),
    };
    let mut found = Found {
        water,
        laid: pipes,
        flows: None,
        leaving: hot,
        fluid,
        indoors,
    };
    let head = format!("water-loop.{}", water.name);
    match solved {
        Ok(flows) => {
            ledger.enter(
                Figure::text(format!("{head}.state"), "flows").formula("whether the loop flows"),
            );
            numbers(model, catalog, &found, &flows, ledger);
            found.flows = Some(flows);
            entering(model, &found, ledger);
        }
        Err(Unsolved::Gap(gap)) => unknown(model, water, &gap, ledger),
        Err(Unsolved::No(why, reason)) => {
            let word = match why {
                crate::physics::water_loop::NoFlow::NoCirculator => "no circulator",
                crate::physics::water_loop::NoFlow::TooTight => "too tight",
                crate::physics::water_loop::NoFlow::PastEnd => "past the end",
                crate::physics::water_loop::NoFlow::NoBore => "no bore",
            };
            ledger.enter(
                Figure::text(format!("{head}.state"), word).formula("whether the loop flows"),
            );
            unknown(model, water, &Gap::because(reason), ledger);
        }
    }
    stands(model, catalog, &found, &starts, ledger);
    found
}

/// Loop, coils and circulators of a loop that has no flow.
fn unknown(model: &Model, water: &WaterLoop, gap: &Gap, ledger: &mut Ledger) {
    let place = |span: Span, words: String| {
        move |figure: Figure| {
            figure
                .formula("flow at which the loop loses what its circulator gives")
                .source(FITTINGS)
                .place(span, words)
        }
    };
    if let Some(pipe) = model.water.pipes.get(&water.name) {
        let words = format!("water pipe {}", pipe.name);
        put(
            ledger,
            format!("water-loop.{}.flow", water.name),
            Err(gap),
            place(pipe.span, words),
        );
    }
    for coil in water.coils() {
        let Some(coil) = model.water.coils.get(coil) else {
            continue;
        };
        for what in ["flow", "entering-water"] {
            let words = format!("water coil {}", coil.name);
            put(
                ledger,
                format!("water-coil.{}.{what}", coil.name),
                Err(gap),
                place(coil.span, words),
            );
        }
    }
}

fn numbers(
    model: &Model,
    catalog: &Catalog,
    found: &Found<'_>,
    flows: &Flows,
    ledger: &mut Ledger,
) {
    let water = found.water;
    let whole = format!("water-loop.{}", water.name);
    let Ok((_, span, words)) = found.leaving else {
        return;
    };
    let cite = |figure: Figure| {
        let figure = figure.source(FITTINGS).place(span, words);
        match model.water.glycol_of(water) {
            Some(glycol) => figure.place(glycol.span, "glycol in the water"),
            None => figure,
        }
    };
    let mut lost = flows.boiler.unwrap_or(0.0);
    let mut volume = 0.0;
    for (name, solved) in &flows.pipes {
        let id = |what: &str| format!("water-pipe.{name}.{what}");
        let (Some(Ok(laid)), Some(pipe)) = (found.laid.get(name), model.water.pipes.get(name))
        else {
            continue;
        };
        volume += laid.volume;
        ledger.enter(cite(
            Figure::number(id("flow"), solved.flow, Dimension::WaterFlow)
                .formula("flow at which its loop loses what the circulator gives")
                .place(pipe.span, format!("water pipe {name}")),
        ));
        let speeds = laid
            .stretches
            .iter()
            .filter_map(|s| s.velocity(solved.flow));
        let speeds: Vec<f64> = speeds.map(|v| v.value() / 60.0).collect();
        let fast = speeds.iter().copied().fold(0.0, f64::max);
        let slow = speeds.iter().copied().fold(f64::INFINITY, f64::min);
        ledger.enter(
            Figure::number(id("velocity"), fast, Dimension::WaterSpeed)
                .formula("flow ÷ inside area, where it is narrowest")
                .input(id("flow"))
                .place(pipe.span, format!("water pipe {name}")),
        );
        ledger.enter(
            Figure::number(id("velocity-least"), slow, Dimension::WaterSpeed)
                .formula("flow ÷ inside area, where it is widest")
                .input(id("flow"))
                .place(pipe.span, format!("water pipe {name}")),
        );
        ledger.enter(cite(
            Figure::number(id("head"), solved.lost, Dimension::Head)
                .formula("friction of its length and of what its fittings count as, at the temperature that leaves the boiler")
                .input(id("flow"))
                .input(id("length"))
                .input(id("fittings")),
        ));
        let pumps: Vec<_> = model
            .water
            .circulators
            .values()
            .filter(|one| one.pipe.value == *name)
            .collect();
        for pump in &pumps {
            circulator(
                catalog,
                pump,
                (solved.flow, solved.given, pumps.len()),
                name,
                ledger,
            );
        }
    }
    for (name, solved) in &flows.coils {
        let Some(coil) = model.water.coils.get(name) else {
            continue;
        };
        let id = |what: &str| format!("water-coil.{name}.{what}");
        ledger.enter(
            cite(
                Figure::number(id("flow"), solved.flow, Dimension::WaterFlow)
                    .formula("flow at which its loop loses what the circulator gives"),
            )
            .place(coil.span, format!("water coil {name}")),
        );
        ledger.enter(
            Figure::number(id("head"), solved.lost, Dimension::Head)
                .formula("the coil's rated loss at its flow and liquid")
                .source(COIL_LOSS)
                .input(id("flow"))
                .place(coil.span, format!("water coil {name}")),
        );
    }
    lost += along(&water.parts, flows);
    ledger.enter(cite(
        Figure::number(format!("{whole}.flow"), flows.whole, Dimension::WaterFlow)
            .formula("flow at which the loop loses what its circulators give, found by halving"),
    ));
    let mut head = Figure::number(format!("{whole}.head"), lost, Dimension::Head)
        .formula("what pipes, fittings, coil and boiler lose one after the other; ways side by side count once")
        .source(FITTINGS)
        .input(format!("{whole}.flow"));
    for name in flows.pipes.keys() {
        head = head.input(format!("water-pipe.{name}.head"));
    }
    for name in flows.coils.keys() {
        head = head.input(format!("water-coil.{name}.head"));
    }
    ledger.enter(head);
    let mut held = Figure::number(format!("{whole}.volume"), 0.0, Dimension::Volume);
    for name in flows.coils.keys() {
        let sheet = model
            .water
            .coils
            .get(name)
            .and_then(|coil| catalog.water_coils.get(&coil.model.as_ref()?.value));
        if let Some((full, dry)) = sheet.and_then(|s| s.weight_full.get().zip(s.weight.get())) {
            // A gallon of water weighs 8.34 lb.
            volume += (full.value() - dry.value()).max(0.0) / 8.34;
        }
    }
    held.value = crate::figures::FigureValue::Number(volume, Dimension::Volume);
    for name in flows.pipes.keys() {
        held = held.input(format!("water-pipe.{name}.volume"));
    }
    ledger.enter(held.formula("water in its pipes and coils; that in the boiler is not counted"));
}

/// Lost one after the other, ft; ways side by side count once.
fn along(parts: &[crate::model::WaterPart], flows: &Flows) -> f64 {
    use crate::model::WaterPart::{Coil, Fork, Pipe};
    parts
        .iter()
        .map(|part| match part {
            Pipe(name) => flows.pipes.get(name).map_or(0.0, |found| found.lost),
            Coil { name, .. } => flows.coils.get(name).map_or(0.0, |found| found.lost),
            Fork(ways) => ways.iter().map(|way| along(way, flows)).fold(0.0, f64::max),
        })
        .sum()
}

fn circulator(
    catalog: &Catalog,
    pump: &crate::model::Circulator,
    (flow, given, among): (f64, f64, usize),
    pipe: &str,
    ledger: &mut Ledger,
) {
    let id = |what: &str| format!("circulator.{}.{what}", pump.name);
    let sheet = pump
        .model
        .as_ref()
        .and_then(|named| catalog.circulators.get(&named.value));
    let cite = |figure: Figure| {
        let mut figure = figure
            .source(FITTINGS)
            .place(pump.span, format!("circulator {}", pump.name));
        for point in sheet.iter().flat_map(|sheet| &sheet.points) {
            figure = figure.place(point.span, "point of its curve");
        }
        figure
    };
    ledger.enter(cite(
        Figure::number(id("flow"), flow, Dimension::WaterFlow)
            .formula("flow where its curve meets what the loop loses")
            .input(format!("water-pipe.{pipe}.flow")),
    ));
    if among == 1 {
        ledger.enter(cite(
            Figure::number(id("head"), given, Dimension::Head)
                .formula("head of its curve at its flow, straight between its points")
                .input(id("flow")),
        ));
    }
}

/// The water that reaches each coil of a loop.
fn entering(model: &Model, found: &Found<'_>, ledger: &mut Ledger) {
    let (Some(flows), Ok((hot, span, words)), Ok(fluid)) =
        (&found.flows, &found.leaving, &found.fluid)
    else {
        return;
    };
    let mut carry = Carry {
        laid: &found.laid,
        flows,
        fluid: *fluid,
        indoors: found.indoors,
        behind: &|_| None,
        entering: BTreeMap::new(),
        lost: BTreeMap::new(),
    };
    let _ = carry.through(&found.water.parts, *hot);
    for name in found.water.coils() {
        let Some(coil) = model.water.coils.get(name) else {
            continue;
        };
        let id = format!("water-coil.{name}.entering-water");
        let gap = Gap::because("the coil stands behind another one, which is not reckoned with");
        let value = carry
            .entering
            .get(name)
            .map(|t| Figure::number(id.clone(), *t, Dimension::Temperature))
            .ok_or(&gap);
        put(ledger, id.clone(), value, |figure| {
            let mut figure = figure
                .formula("water of the boiler less what its pipes lose on the way, each space by the exponential approach; a space whose winter temperature is not given counts as kept at the rooms' temperature")
                .source(WARMTH)
                .place(*span, *words)
                .place(coil.span, format!("water coil {name}"));
            for pipe in carry.lost.keys() {
                figure = figure
                    .input(format!("water-pipe.{pipe}.flow"))
                    .input(format!("water-pipe.{pipe}.length"))
                    .input(format!("water-pipe.{pipe}.insulation"));
            }
            figure
        });
    }
}

/// What a coil asks for, as stated.
fn asked(coil: &WaterCoil, ledger: &mut Ledger) {
    let mut state = |what: &str, value: Option<Spanned<f64>>, dimension, words: &str| {
        if let Some(value) = value {
            ledger.enter(
                Figure::number(
                    format!("water-coil.{}.{what}", coil.name),
                    value.value,
                    dimension,
                )
                .formula("as the job states it")
                .source("the job")
                .place(value.span, words),
            );
        }
    };
    state("flow-asked", coil.flow, Dimension::WaterFlow, "flow");
    state("water-asked", coil.water, Dimension::Temperature, "water");
}

/// A coil that no loop of a boiler reaches: what is stated counts.
fn as_stated(model: &Model, coil: &WaterCoil, ledger: &mut Ledger) {
    for (what, word, value, dimension, name) in [
        (
            "flow",
            "flow",
            coil.flow,
            Dimension::WaterFlow,
            "the flow of the coil's water",
        ),
        (
            "entering-water",
            "water",
            coil.water,
            Dimension::Temperature,
            "the temperature of the coil's water",
        ),
    ] {
        let id = format!("water-coil.{}.{what}", coil.name);
        let gap = if model.is_open(coil.span, word) {
            Gap::because(format!("{name} is not known yet"))
        } else {
            Gap::because(format!("{name} is not given"))
        };
        let figure = value
            .map(|value| Figure::number(id.clone(), value.value, dimension))
            .ok_or(&gap);
        put(ledger, id.clone(), figure, |figure| {
            figure
                .formula("as the job states it: no loop of a boiler reaches the coil")
                .source("the job")
                .place(value.map_or(coil.span, |value| value.span), name)
        });
    }
}

/// Height, fill, and how cold it gets around the loop.
fn stands(
    model: &Model,
    catalog: &Catalog,
    found: &Found<'_>,
    starts: &BTreeMap<String, Length>,
    ledger: &mut Ledger,
) {
    let water = found.water;
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
                crate::physics::water_loop::fill_pressure(top - base),
                Dimension::WaterPressure,
            )
            .formula("height × 0.433 psi per ft of cold water, and 4 psi over it at the top")
            .source("hydrostatics; 4 psi at the top is common practice")
            .input(id("height")),
        );
    }
}
