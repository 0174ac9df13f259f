//! The plan of each story, to scale: rooms, outlets, unit, trunk, tubes, and what stands in the way.

mod air;
mod house;
mod page;
mod parts;

pub(super) use page::add;
