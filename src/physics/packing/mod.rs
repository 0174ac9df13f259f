//! Cuts pieces from stock lengths: first-fit decreasing in whole numbers, with a lower bound beside it.
//!
//! Knows no job and no unit. A plan is called proven only when its cost equals its lower bound.

mod bound;
mod first_fit;
mod read;

pub use bound::lower_bound;
pub use first_fit::{Bar, Plan, Stock, pack};
pub use read::{CutList, Misread, read};
