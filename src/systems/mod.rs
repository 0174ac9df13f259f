//! One file or folder per system: model and physics to figures.

mod access;
mod air;
pub mod controls;
pub mod drain;
mod enter;
pub mod power;
mod plan;

pub use enter::figure;
