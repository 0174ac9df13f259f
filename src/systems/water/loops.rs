//! A loop made ready for the solver: pipes with their circulators, coils and the boiler with what they lose.

use std::collections::BTreeMap;

use crate::catalog::Catalog;
use crate::model::{Model, WaterLoop, WaterPart};
use crate::physics::fluid::Fluid;
use crate::physics::water::{CLOSED_LOOP, Water};
use crate::physics::water_loop::{KnownLoss, NoFlow, Part, PumpCurve, Solved};
use crate::quantity::Temperature;
use crate::systems::comfort::gap::Gap;

use super::pipe::Laid;

fn known(loss: Option<KnownLoss>) -> Part {
    loss.map_or(Part::Free, Part::Known)
}

/// The loss of a coil from its rated point, with plain water at its rated temperature.
fn coil(model: &Model, catalog: &Catalog, name: &str) -> Option<KnownLoss> {
    let model_name = &model.water.coils.get(name)?.model.as_ref()?.value;
    let rated = &catalog.water_coils.get(model_name)?.rated;
    Some(KnownLoss {
        flow: rated.flow.get()?.value(),
        loss: rated.water_loss.get()?,
        liquid: Water::at(rated.entering_water.get()?, CLOSED_LOOP)?,
    })
}

fn boiler(model: &Model, catalog: &Catalog, name: &str) -> Option<KnownLoss> {
    let model_name = &model.water.boilers.get(name)?.model.as_ref()?.value;
    let point = catalog
        .boilers
        .get(model_name)?
        .water_loss
        .as_ref()?
        .get()?;
    Some(KnownLoss {
        flow: point.flow.value(),
        loss: point.pressure,
        liquid: Water::at(Temperature::new(60.0), CLOSED_LOOP)?,
    })
}

fn pumps(model: &Model, catalog: &Catalog, pipe: &str) -> Result<Vec<PumpCurve>, Gap> {
    let mut out = Vec::new();
    for one in model
        .water
        .circulators
        .values()
        .filter(|one| one.pipe.value == pipe)
    {
        let named = one.model.as_ref().ok_or_else(|| {
            Gap::because(format!(
                "the model of circulator `{}` is not known yet",
                one.name
            ))
        })?;
        let sheet = catalog.circulators.get(&named.value).ok_or(Gap::Silent)?;
        let points = sheet
            .points
            .iter()
            .filter_map(|point| Some((point.get()?.flow, point.get()?.pressure)));
        // A curve that is none is a mistake of the catalog, reported there.
        out.push(PumpCurve::new(points).ok_or(Gap::Silent)?);
    }
    Ok(out)
}

fn parts(
    (model, catalog): (&Model, &Catalog),
    of: &[WaterPart],
    laid: &BTreeMap<String, Result<Laid, Gap>>,
) -> Result<Vec<Part>, Gap> {
    of.iter()
        .map(|part| {
            Ok(match part {
                WaterPart::Pipe(name) => {
                    let laid = laid
                        .get(name)
                        .ok_or(Gap::Silent)?
                        .as_ref()
                        .map_err(Clone::clone)?;
                    Part::Pipe(laid.stretches.clone(), pumps(model, catalog, name)?)
                }
                WaterPart::Coil { name, .. } => known(coil(model, catalog, name)),
                WaterPart::Fork(ways) => Part::Fork(
                    ways.iter()
                        .map(|way| parts((model, catalog), way, laid))
                        .collect::<Result<_, Gap>>()?,
                ),
            })
        })
        .collect()
}

/// Why a loop does not flow, in words.
fn reason(why: NoFlow, name: &str) -> String {
    match why {
        NoFlow::NoCirculator => format!("no circulator moves the water of loop `{name}`"),
        NoFlow::TooTight => {
            format!("loop `{name}` asks for more head than its circulator's curve shows")
        }
        NoFlow::PastEnd => {
            format!("loop `{name}` lets more through than its circulator's curve shows")
        }
        NoFlow::NoBore => format!("a pipe of loop `{name}` has no bore"),
    }
}

/// Flow, loss and head given of every pipe and coil of a loop, by name.
#[derive(Clone, Debug, Default)]
pub(super) struct Flows {
    pub(super) pipes: BTreeMap<String, Solved>,
    pub(super) coils: BTreeMap<String, Solved>,
    /// Through the boiler.
    pub(super) whole: f64,
    /// Lost in the boiler.
    pub(super) boiler: Option<f64>,
}

fn gather(of: &[WaterPart], solved: &[Solved], out: &mut Flows) {
    for (part, found) in of.iter().zip(solved) {
        match part {
            WaterPart::Pipe(name) => {
                out.pipes.insert(name.clone(), found.clone());
            }
            WaterPart::Coil { name, .. } => {
                out.coils.insert(name.clone(), found.clone());
            }
            WaterPart::Fork(ways) => {
                for (way, found) in ways.iter().zip(&found.ways) {
                    gather(way, found, out);
                }
            }
        }
    }
}

/// Why a loop could not be solved: not known, or for a fault of its own.
pub(super) enum Unsolved {
    Gap(Gap),
    No(NoFlow, String),
}

/// Solves a closed loop.
pub(super) fn solve(
    (model, catalog): (&Model, &Catalog),
    water: &WaterLoop,
    laid: &BTreeMap<String, Result<Laid, Gap>>,
    (fluid, temperature): (Fluid, f64),
) -> Result<Flows, Unsolved> {
    if let Some(at) = &water.open_at {
        return Err(Unsolved::Gap(Gap::because(format!(
            "no pipe leads from `{at}` back to boiler `{}`",
            water.boiler
        ))));
    }
    let liquid = fluid
        .at(Temperature::new(temperature), CLOSED_LOOP)
        .ok_or_else(|| Unsolved::Gap(Gap::because("the loop's water is not liquid at 40 psia")))?;
    let mut ready = parts((model, catalog), &water.parts, laid).map_err(Unsolved::Gap)?;
    let own = boiler(model, catalog, &water.boiler);
    ready.push(known(own));
    let solved = crate::physics::water_loop::solve(&ready, &liquid)
        .map_err(|why| Unsolved::No(why, reason(why, &water.name)))?;
    let mut out = Flows {
        whole: solved.first().map_or(0.0, |first| first.flow),
        boiler: own.and_then(|_| solved.last().map(|last| last.lost)),
        ..Flows::default()
    };
    gather(&water.parts, &solved, &mut out);
    Ok(out)
}
