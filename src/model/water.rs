//! Hot water: pipes, and the boilers, coils, circulators and radiators that they join.

use indexmap::IndexMap;

use crate::language::Entry;
use crate::source::Spanned;

use super::boiler::{Boiler, boiler};
use super::builder::Builder;
use super::circulator::{Circulator, circulator};
use super::radiators::{Radiators, radiators};
use super::water_coil::{WaterCoil, coil};
use super::water_loop::{WaterLoop, loops};
use super::water_pipe::{WaterPipe, pipe};

/// All hot water of a job, by name.
#[derive(Clone, Debug, Default)]
pub struct HotWater {
    /// Pipes.
    pub pipes: IndexMap<String, WaterPipe>,
    /// Boilers.
    pub boilers: IndexMap<String, Boiler>,
    /// Coils.
    pub coils: IndexMap<String, WaterCoil>,
    /// Circulators.
    pub circulators: IndexMap<String, Circulator>,
    /// Radiators.
    pub radiators: IndexMap<String, Radiators>,
    /// Loops from a boiler and back.
    pub loops: Vec<WaterLoop>,
}

impl HotWater {
    /// The coil in a unit.
    pub fn coil_in(&self, unit: &str) -> Option<&WaterCoil> {
        self.coils.values().find(|coil| coil.unit.value == unit)
    }

    /// The loop that a pipe or a coil belongs to.
    pub fn loop_of(&self, name: &str) -> Option<&WaterLoop> {
        self.loops
            .iter()
            .find(|water| water.pipes().contains(&name) || water.coils().contains(&name))
    }

    /// The boiler's water at winter design, where it is known.
    pub fn boiler_water(&self, boiler: &str) -> Option<Spanned<f64>> {
        self.boilers.get(boiler)?.water
    }

    /// The glycol of a loop: that of its coils.
    pub fn glycol_of(&self, water: &WaterLoop) -> Option<Spanned<f64>> {
        water
            .coils()
            .into_iter()
            .find_map(|coil| self.coils.get(coil)?.glycol)
    }
}

/// Keeps a thing that was read; of two with one name the first.
fn keep<T>(shelf: &mut IndexMap<String, T>, read: Option<T>, name: impl Fn(&T) -> &str) {
    if let Some(thing) = read {
        shelf.entry(name(&thing).to_owned()).or_insert(thing);
    }
}

/// Reads all hot water, once every name is known; lines whose name is taken are reported elsewhere.
pub(super) fn read(builder: &mut Builder<'_>, entries: &[Entry]) {
    let mut water = HotWater::default();
    for entry in entries {
        match entry.word.word {
            "water-pipe" => keep(&mut water.pipes, pipe(builder, entry), |pipe| &pipe.name),
            "boiler" => keep(&mut water.boilers, boiler(builder, entry), |boiler| {
                &boiler.name
            }),
            "water-coil" => keep(&mut water.coils, coil(builder, entry), |coil| &coil.name),
            "circulator" => keep(&mut water.circulators, circulator(builder, entry), |one| {
                &one.name
            }),
            "radiators" => keep(&mut water.radiators, radiators(builder, entry), |all| {
                &all.name
            }),
            _ => {}
        }
    }
    water.loops = loops(&water);
    builder.model.water = water;
}
