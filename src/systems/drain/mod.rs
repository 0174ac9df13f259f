//! Condensate drains: suction at the pan, what it asks of the trap, fall leg by leg, sizes, and the end.

mod ending;
mod enter;
mod legs;
mod suction;
mod trap;

pub use ending::pipe_size;
pub(super) use enter::enter;
pub use legs::{LEAST_FALL, USUAL_FALL};
pub use trap::{PRACTICE_MARGIN, suffix};
