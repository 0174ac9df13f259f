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

mod air_friction;
mod air_network;
mod condensate;
mod conductor;
mod control_drop;
mod cutting;
mod feed;
mod feed_given;
mod fitting_loss;
mod hydronic_coil;
mod pipe_dims;
mod psychrometrics;
mod pump_head;
mod trap_seal;
mod voltage_drop;
mod water_friction;

pub use run::{CalcOutcome, calc};
