//! The job as it will stand in the house: names resolved, equipment placed and turned, routes walked.
//!
//! Lengths, heights and holes come from geometry; what was typed and contradicts it is a finding.

mod air;
mod beyond;
mod build;
mod controls;
mod drain;
mod equipment;
mod house;
mod job;
mod mistakes;
mod names;
mod pan;
mod part;
mod place;
mod power;
mod pump;
mod references;
mod service;
mod station;
mod stock;
mod straight;
mod waiver;
mod water;
mod water_loop;

pub use air::{Fitting, FittingKind, Run, Trunk, TrunkLeg};
pub use build::{Model, Open, build};
pub use controls::{Cable, Wire};
pub use drain::{Branch, Drain, DrainLeg, Ending, Happening, Mark};
pub use equipment::{AirHandler, Equipment, PlacedPort, PlacedSpace, Thermostat};
pub use house::{Hatch, House, Outlet, Path, Roof, Room, Solid, SolidKind, Story, Surface};
pub use job::{Codes, Condition, JobFacts, Revision, Stage};
pub use mistakes::KINDS;
pub(crate) use mistakes::WAIVER_IDLE;
pub use names::Names;
pub use pan::Pan;
pub use part::Part;
pub use place::{Direction, Extent, Point};
pub use power::{Circuit, Disconnect, Landing, Panel};
pub use pump::Pump;
pub use service::{Light, Receptacle};
pub use station::nearest_clear;
pub use waiver::Waiver;
pub use water::{
    Boiler, Circulator, HotWater, Radiators, WaterCoil, WaterEnd, WaterLeg, WaterMark, WaterPipe,
};
pub use water_loop::{WaterLoop, WaterPart};
