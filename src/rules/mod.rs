//! The trade rules, one small file each, and the engine that runs them.
//!
//! Adding a rule touches its file, one line of the registry, and its folder of cases.

mod access;
mod air;
mod capacity;
mod controls;
mod described;
mod drain;
mod engine;
mod limit;
mod opening;
mod power;
mod registry;
#[path = "return/mod.rs"]
mod return_air;
mod rule;
mod supports;
mod unruled;
mod water;

pub use controls::settle;
pub use engine::{Judged, Loosened, judge};
pub use limit::Limit;
pub use registry::{RULES, kind_named, kinds, rule_named};
pub use rule::{Example, Job, NotChecked, Report, Rule};
pub use unruled::unruled;
