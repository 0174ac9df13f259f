//! Condensate drains: suction at the pan, what it asks of the trap, water and what
//! the pipes carry, fall and sag leg by leg, sizes, the end, pans and pumps.

mod capacity;
mod ending;
mod enter;
mod legs;
mod moisture;
mod pan;
mod pump;
mod reach;
mod sag;
mod space;
mod suction;
mod supports;
mod trap;
mod trap_room;

pub use ending::pipe_size;
pub(super) use enter::enter;
pub use legs::{LEAST_FALL, USUAL_FALL};
pub use reach::ARM;
pub use sag::wall;
pub use space::{KEEPS_WATER, lived_in};
pub use supports::{most_spacing, upright_spacing};
pub use trap::{PRACTICE_MARGIN, suffix};
