//! The air network: trunks, tubes and returns between rooms and a blower, trees and loops alike.
//!
//! Ducts have friction by Darcy and Colebrook and a loss coefficient on their own velocity; density
//! and viscosity are constant, pressures are total. [`solve`] gives flows and pressures with the
//! residual that is left, or says which part has no solution and why; [`settle`] does so where loss
//! coefficients hang on the flows themselves, as those of tees do.

mod elimination;
mod fan;
mod fault;
mod graph;
mod part;
mod resistance;
mod search;
mod settle;
mod solve;

pub use fan::FanCurve;
pub use fault::Unsolvable;
pub use part::{Drive, Network, Node, Segment, SegmentState, Solution, Source};
pub use settle::{Settled, settle, settle_near};
pub use solve::solve;
