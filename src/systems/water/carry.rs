//! How warm the water is on its way round a loop: pipes cool it, coils take their heat, ways side by side mix.

use std::collections::BTreeMap;

use crate::model::WaterPart;
use crate::physics::fluid::Fluid;
use crate::physics::water::CLOSED_LOOP;
use crate::quantity::Temperature;

use super::loops::Flows;
use super::pipe::Laid;
use crate::systems::comfort::gap::Gap;

/// Cubic feet an hour in one gallon a minute.
const FT3_H_PER_GPM: f64 = 231.0 / 1728.0 * 60.0;

/// What a flow carries for each degree, Btu/(h·°F); none where it is not liquid.
pub(in crate::systems) fn rate(fluid: Fluid, temperature: f64, flow: f64) -> Option<f64> {
    let liquid = fluid.at(Temperature::new(temperature), CLOSED_LOOP)?;
    Some(flow * FT3_H_PER_GPM * liquid.density.value() * liquid.specific_heat.value())
}

/// A walk with the water.
pub(super) struct Carry<'a> {
    pub(super) laid: &'a BTreeMap<String, Result<Laid, Gap>>,
    pub(super) flows: &'a Flows,
    pub(super) fluid: Fluid,
    pub(super) indoors: f64,
    /// The water behind a coil, where it is known.
    pub(super) behind: &'a dyn Fn(&str) -> Option<f64>,
    /// The water before each coil.
    pub(super) entering: BTreeMap<String, f64>,
    /// What each pipe loses, Btu/h.
    pub(super) lost: BTreeMap<String, f64>,
}

impl Carry<'_> {
    /// The water behind `parts` that enters them at `t`; none where a coil's output is not known.
    pub(super) fn through(&mut self, parts: &[WaterPart], t: f64) -> Option<f64> {
        let mut t = t;
        for part in parts {
            match part {
                WaterPart::Pipe(name) => {
                    let laid = self.laid.get(name)?.as_ref().ok()?;
                    let carried = rate(self.fluid, t, self.flows.pipes.get(name)?.flow)?;
                    if carried <= 0.0 {
                        return None;
                    }
                    let start = t;
                    for (conductance, around) in laid.losses(self.indoors) {
                        t = around + (t - around) * libm::exp(-conductance / carried);
                    }
                    self.lost.insert(name.clone(), carried * (start - t));
                }
                WaterPart::Coil { name, .. } => {
                    self.entering.insert(name.clone(), t);
                    t = (self.behind)(name)?;
                }
                WaterPart::Fork(ways) => {
                    let (mut heat, mut flow) = (0.0, 0.0);
                    let mut all = true;
                    for way in ways {
                        let own = way.iter().find_map(|part| match part {
                            WaterPart::Pipe(name) => self.flows.pipes.get(name),
                            _ => None,
                        });
                        let own = own.map_or(0.0, |found| found.flow);
                        match self.through(way, t) {
                            Some(end) => {
                                heat += own * end;
                                flow += own;
                            }
                            None => all = false,
                        }
                    }
                    if !all || flow <= 0.0 {
                        return None;
                    }
                    t = heat / flow;
                }
            }
        }
        Some(t)
    }
}
