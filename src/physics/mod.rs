//! Physics of the trade: pure functions of typed measures, which know no job.
//!
//! A table of a published standard is one data file beside the function that reads it.

pub mod conductor;
pub mod pipe_dims;
pub mod psychrometrics;
mod root;
mod standard_table;
pub mod trap;
pub mod voltage_drop;
pub mod water;
