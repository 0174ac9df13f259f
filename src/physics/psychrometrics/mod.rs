//! Moist air by the ideal-gas equations: one state from dry bulb and one more property, or from any two.

mod moist_air;
mod no_such_air;
mod pair;

pub(super) use moist_air::RANKINE;
pub use moist_air::{MoistAir, saturation_pressure, standard_pressure};
pub use no_such_air::NoSuchAir;
pub use pair::Property;
