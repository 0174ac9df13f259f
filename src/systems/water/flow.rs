//! Solves every loop and enters what became of it; then what each coil asks for, before the air is solved.

use std::collections::BTreeMap;

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::model::{Model, WaterLoop};
use crate::physics::fluid::Fluid;
use crate::physics::water_loop::NoFlow;
use crate::source::Span;
use crate::systems::comfort::design::{Design, Season};
use crate::systems::comfort::gap::{Gap, put};

use super::coil::{as_stated, asked};
use super::entering::entering;
use super::loops::{Flows, Unsolved, solve};
use super::pipe::{FITTINGS, Laid, enter as enter_pipe, laid};
use super::place::{at_boiler, starts};
use super::stated::{leaving, liquid};
use super::{fill, freeze, radiators, solved, supply};

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
            solved::enter((model, catalog), &found, &flows, ledger);
            found.flows = Some(flows);
            entering(model, &found, ledger);
        }
        Err(Unsolved::Gap(gap)) => unknown(model, water, &gap, ledger),
        Err(Unsolved::No(why, reason)) => {
            let word = match why {
                NoFlow::NoCirculator => "no circulator",
                NoFlow::TooTight => "too tight",
                NoFlow::PastEnd => "past the end",
                NoFlow::NoBore => "no bore",
            };
            ledger.enter(
                Figure::text(format!("{head}.state"), word).formula("whether the loop flows"),
            );
            unknown(model, water, &Gap::because(reason), ledger);
        }
    }
    fill::enter(model, catalog, water, &starts, ledger);
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
