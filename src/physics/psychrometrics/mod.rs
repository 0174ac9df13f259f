//! Moist air by the ideal-gas equations: one state from dry bulb and one more property, or from any two.

mod moist_air;
mod pair;

pub(super) use moist_air::RANKINE;
pub use moist_air::{MoistAir, NoSuchAir, saturation_pressure, standard_pressure};
pub use pair::Property;
