//! One file per system: model and physics to figures.

mod air;
mod enter;

pub use enter::figure;
