//! One file or folder per system: model and physics to figures.

mod access;
mod air;
mod comfort;
pub mod controls;
mod curve;
pub mod drain;
mod enter;
mod plan;
pub mod power;
mod practice;
mod profile;
mod start_up;
mod taps;
pub mod water;
mod weather;

pub use enter::{Purpose, figure};
