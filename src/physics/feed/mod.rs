//! A feed by the electrical code: from what it carries to its least ampacity, its breaker, its conductors and ground.

mod conductors;
mod loads;

pub use conductors::{Carried, Laid, carried, drop_of, grown_ground, least_for_drop, smallest};
pub use loads::{Ask, Breaker, Loads, Rule};
