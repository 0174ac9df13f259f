//! Setting and access: what stands where a unit needs room, and whether it can be carried in.

mod clearance;
mod enter;
mod passage;
mod pipe_in_space;
mod service_space;
mod standing;
mod trunk_in_solid;
mod working_space;

pub(super) use enter::enter;
pub(super) use standing::{Shape, Standing, standing_on};
pub(super) use working_space::taken;
