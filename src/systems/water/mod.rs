//! Hot water: what flows in each loop, how warm it is on its way, what the coil and the boiler make of it.

mod boiler;
mod carry;
mod coil;
mod entering;
mod fill;
mod flow;
mod freeze;
mod high;
mod insulation;
mod loops;
mod pipe;
mod place;
mod radiators;
mod solved;
mod stated;
mod supply;

pub(super) use boiler::enter as enter_boilers;
pub(super) use carry::rate as carry_rate;
pub(super) use flow::enter as enter_flows;
pub use high::{HighPoint, high_points};
pub(super) use radiators::id as radiators_id;
pub(super) use supply::WARMED;
