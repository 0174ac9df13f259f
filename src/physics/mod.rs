//! Physics of the trade: pure functions of typed measures, which know no job.
//!
//! A table of a published standard is one data file beside the function that reads it.

pub mod air;
pub mod coil;
pub mod conductor;
pub mod cooling_coil;
pub mod duct;
pub mod duct_heat;
pub mod feed;
pub mod fitting;
pub mod fluid;
pub mod friction;
pub mod hot_water_coil;
pub mod network;
pub mod open_channel;
pub mod packing;
pub mod passage;
pub mod pipe_dims;
pub mod pipe_flow;
pub mod pipe_sag;
pub mod potential;
pub mod psychrometrics;
pub mod pump;
pub mod room_balance;
mod root;
mod standard_table;
pub mod switching;
pub mod trap;
pub mod trap_water;
pub mod voltage_drop;
pub mod water;
pub mod water_loop;
