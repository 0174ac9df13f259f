//! The air on its way: what trunk legs and tubes gain or lose, and how warm it is at each outlet.

use std::collections::BTreeMap;

use crate::catalog::{Catalog, Section};
use crate::figures::{Figure, Ledger, figure_id};
use crate::model::{AirHandler, FittingKind, Model, Run, Trunk};
use crate::physics::air::{DuctAir, viscosity};
use crate::physics::duct_heat::{DuctStream, InsulatedDuct, along_duct};
use crate::physics::psychrometrics::MoistAir;
use crate::quantity::{AirFlow, Density, Dimension, Length, MassFlow, Temperature};
use crate::source::Span;

use super::design::Design;
use super::gap::{Gap, known, put};
use super::space::{Space, at};

pub(super) const SOURCE: &str = "ASHRAE Handbook—Fundamentals, Heat Transfer: exponential approach, insulation as a hollow cylinder, film of still air outside";

/// Air at the end of each run.
#[derive(Clone, Debug, Default)]
pub(super) struct Arrivals {
    /// Temperature in its outlet, °F, and what one degree of it carries, Btu/(h·°F), by run.
    pub(super) runs: BTreeMap<String, (f64, f64)>,
    /// Heat gained over all ducts of the unit, Btu/h; below zero when lost.
    pub(super) gain: f64,
    /// Why a run has no end, where one has none.
    pub(super) lacking: Option<Gap>,
}

pub(super) struct Walk<'a> {
    pub(super) model: &'a Model,
    pub(super) catalog: &'a Catalog,
    pub(super) design: &'a Design,
    leaving: MoistAir,
    density: f64,
    pub(super) suffix: &'static str,
    /// What the temperature in the trunk rests on: figure and places.
    start: String,
}

/// A stretch of trunk between two places where air leaves it.
struct Stretch {
    length: Length,
    flow: f64,
    duct: InsulatedDuct,
    space: Space,
}

impl Walk<'_> {
    pub(super) fn stream(&self, cfm: f64) -> DuctStream {
        let density = Density::new(self.density);
        let w = self.leaving.humidity_ratio().value();
        DuctStream {
            flow: AirFlow::new(cfm),
            air: DuctAir {
                density,
                viscosity: viscosity(self.leaving.dry_bulb(), density),
            },
            dry_air: MassFlow::new(cfm * 60.0 * self.density / (1.0 + w)),
            heat_per_pound: 0.240 + 0.444 * w,
        }
    }

    fn rate(&self, cfm: f64) -> f64 {
        let stream = self.stream(cfm);
        stream.dry_air.value() * stream.heat_per_pound
    }

    fn flow_of(&self, run: &Run, ledger: &Ledger) -> Result<f64, Gap> {
        let flow = known(
            ledger,
            &figure_id(["run.", &run.name, ".airflow", self.suffix]),
        )?;
        if flow > 0.0 {
            Ok(flow)
        } else {
            Err(Gap::because(format!(
                "no air flows out through run `{}`",
                run.name
            )))
        }
    }

    /// Runs that leave a trunk, and branches, with their station.
    fn leaves<'m>(&'m self, trunk: &Trunk) -> Vec<(Length, Result<&'m Run, &'m Trunk>)> {
        let runs = self
            .model
            .runs
            .values()
            .filter(|run| run.trunk.value == trunk.name)
            .filter_map(|run| Some((run.station?.value, Ok(run))));
        let branches = self.model.trunks.values().filter_map(|branch| {
            let (parent, station) = branch.parent.as_ref()?;
            (*parent == trunk.name).then_some((*station, Err(branch)))
        });
        let mut all: Vec<_> = runs.chain(branches).collect();
        all.sort_by_key(|(station, _)| *station);
        all
    }

    /// All air that enters a trunk, cfm.
    fn whole(&self, trunk: &Trunk, ledger: &Ledger, depth: usize) -> Result<f64, Gap> {
        if depth > 32 {
            return Err(Gap::Silent);
        }
        let mut sum = 0.0;
        for (_, leaf) in self.leaves(trunk) {
            sum += match leaf {
                Ok(run) => self.flow_of(run, ledger)?,
                Err(branch) => self.whole(branch, ledger, depth + 1)?,
            };
        }
        Ok(sum)
    }

    fn pipe(&self, name: Option<&str>) -> Result<(InsulatedDuct, Span), Gap> {
        let name = name.ok_or_else(|| Gap::because("the trunk's pipe is not named"))?;
        trunk_duct(self.catalog, name)
    }

    /// The stretches of a trunk between two stations.
    fn stretches(
        &self,
        trunk: &Trunk,
        (from, to): (Length, Length),
        flow: f64,
    ) -> Result<Vec<Stretch>, Gap> {
        let mut out = Vec::new();
        for leg in &trunk.legs {
            let (start, end) = (leg.station.max(from), (leg.station + leg.length).min(to));
            if end <= start {
                continue;
            }
            let (duct, _) = self.pipe(leg.pipe.as_ref().map(|pipe| pipe.value.as_str()))?;
            out.push(Stretch {
                length: end - start,
                flow,
                duct,
                space: at(self.model, leg.start.z, self.design)?,
            });
        }
        Ok(out)
    }

    /// Walks a trunk from its start, where the air has `warm`, and everything that leaves it.
    fn trunk(
        &self,
        trunk: &Trunk,
        warm: f64,
        arrivals: &mut Arrivals,
        ledger: &mut Ledger,
        depth: usize,
    ) -> Result<(), Gap> {
        let found = self.along(trunk, warm, arrivals, ledger, depth);
        let id = figure_id(["trunk.", &trunk.name, ".gain", self.suffix]);
        let value = found
            .as_ref()
            .map(|gain| Figure::number(id.clone(), *gain, Dimension::HeatFlow));
        put(ledger, id, value, |figure| {
            let figure = figure
                .formula("heat that the air gains between the places where air leaves it, each stretch by the exponential approach to the temperature around it")
                .source(SOURCE)
                .input(self.start.clone())
                .input(figure_id(["trunk.", &trunk.name, ".length"]));
            self.cite_trunk(trunk, figure)
        });
        arrivals.gain += found?;
        Ok(())
    }

    /// The heat that the trunk itself gains.
    fn along(
        &self,
        trunk: &Trunk,
        warm: f64,
        arrivals: &mut Arrivals,
        ledger: &mut Ledger,
        depth: usize,
    ) -> Result<f64, Gap> {
        let mut left = self.whole(trunk, ledger, depth)?;
        let (mut at, mut t, mut gain) = (Length::ZERO, warm, 0.0);
        for (station, leaf) in self.leaves(trunk) {
            for stretch in self.stretches(trunk, (at, station), left)? {
                let end = along_duct(
                    &stretch.duct,
                    stretch.length,
                    Temperature::new(stretch.space.temperature),
                    Temperature::new(t),
                    &self.stream(stretch.flow),
                );
                if let Some(end) = end {
                    t = end.leaving.value();
                    gain += end.gain.value();
                }
            }
            at = at.max(station);
            match leaf {
                Ok(run) => {
                    let flow = self.flow_of(run, ledger)?;
                    self.take_off(run, trunk, t, ledger);
                    match self.run(run, t, flow, ledger) {
                        Ok((end, gain)) => {
                            arrivals.gain += gain;
                            let rate = self.rate(flow);
                            arrivals.runs.insert(run.name.clone(), (end, rate));
                        }
                        Err(gap) => arrivals.lacking = Some(gap),
                    }
                    left -= flow;
                }
                Err(branch) => {
                    let flow = self.whole(branch, ledger, depth + 1)?;
                    self.trunk(branch, t, arrivals, ledger, depth + 1)?;
                    left -= flow;
                }
            }
        }
        Ok(gain)
    }

    fn cite_trunk(&self, trunk: &Trunk, mut figure: Figure) -> Figure {
        let mut cited: Vec<Span> = Vec::new();
        for leg in &trunk.legs {
            let Ok(space) = at(self.model, leg.start.z, self.design) else {
                continue;
            };
            if !cited.contains(&space.span) {
                cited.push(space.span);
                figure = figure.place(space.span, space.words);
            }
            let name = leg.pipe.as_ref().map(|pipe| pipe.value.as_str());
            if let Ok((_, span)) = self.pipe(name)
                && !cited.contains(&span)
            {
                cited.push(span);
                figure = figure.place(span, "insulation of the trunk");
            }
        }
        figure
    }

    /// How warm the air is where a run leaves its trunk.
    fn take_off(&self, run: &Run, trunk: &Trunk, t: f64, ledger: &mut Ledger) {
        let mut figure = Figure::number(
            figure_id(["run.", &run.name, ".take-off-temperature", self.suffix]),
            t,
            Dimension::Temperature,
        )
        .formula("the air's temperature behind the coil and what the trunk adds up to the take-off")
        .source(SOURCE)
        .input(self.start.clone());
        let mut above = Some(trunk);
        while let Some(trunk) = above {
            figure = figure.input(figure_id(["trunk.", &trunk.name, ".gain", self.suffix]));
            above = trunk
                .parent
                .as_ref()
                .and_then(|(parent, _)| self.model.trunks.get(parent));
        }
        if let Some(station) = &run.station {
            figure = figure.place(station.span, "distance of the take-off along the trunk");
        }
        ledger.enter(figure);
    }
}

/// A trunk pipe of the catalog as heat passes it, with the place of its insulation.
pub(super) fn trunk_duct(catalog: &Catalog, name: &str) -> Result<(InsulatedDuct, Span), Gap> {
    let Some(sheet) = catalog.trunk_pipes.get(name) else {
        return Err(Gap::because(format!(
            "no catalog holds the trunk pipe `{name}`"
        )));
    };
    let unstated = |reason: Option<&'static str>, what: &str| {
        Gap::because(format!(
            "{what} of `{name}`: {}",
            reason.unwrap_or("the catalog does not give it")
        ))
    };
    let section = sheet
        .section
        .get()
        .ok_or_else(|| unstated(sheet.section.reason(), "the section"))?;
    let insulation = sheet
        .insulation
        .get()
        .ok_or_else(|| unstated(sheet.insulation.reason(), "the insulation"))?;
    let inside = match section {
        Section::Round(d) | Section::Pipe(d) => d,
        // A round duct of the same girth.
        Section::Rectangular(w, h) => {
            Length::nearest(2.0 * (w + h).to_inches() / std::f64::consts::PI)
        }
    };
    let duct = InsulatedDuct {
        inside,
        outside: None,
        insulation,
    };
    Ok((duct, sheet.insulation.span))
}

/// Walks all trunks of a unit; `leaving` is the air behind its coil, said by figure `start`.
pub(super) fn enter(
    (model, catalog): (&Model, &Catalog),
    (unit, design): (&AirHandler, &Design),
    (leaving, start): (MoistAir, String),
    ledger: &mut Ledger,
) -> Result<Arrivals, Gap> {
    let suffix = design.season.suffix();
    let walk = Walk {
        model,
        catalog,
        design,
        leaving,
        density: known(ledger, &figure_id(["air.supply-density", suffix]))?,
        suffix,
        start,
    };
    let mut arrivals = Arrivals::default();
    for trunk in model.trunks.values() {
        let own = trunk.parent.is_none() && trunk.unit.as_ref() == Some(&unit.name);
        if !own {
            continue;
        }
        if trunk.flawed || trunk.fittings.iter().all(|f| f.kind != FittingKind::Unit) {
            return Err(Gap::Silent);
        }
        walk.trunk(trunk, leaving.dry_bulb().value(), &mut arrivals, ledger, 0)?;
    }
    Ok(arrivals)
}
