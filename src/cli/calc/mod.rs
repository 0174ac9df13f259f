//! The bench calculator: physics by hand, one case at a time or over a CSV table.
//!
//! Each table has one small file, which reads a row, calls the physics and gives the result columns.

mod bench;
mod column;
mod list;
mod number;
mod row;
mod run;
mod table;
mod typed;

mod conductor;
mod pipe_dims;
mod psychrometrics;
mod trap_seal;
mod voltage_drop;

pub use run::{CalcOutcome, calc};
