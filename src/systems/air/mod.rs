//! Supply air: rooms, runs and trunks by geometry and the trade's figures, and the circuit of each unit, solved.

mod circuit;
mod door;
mod enter;
mod mixing;
mod room;
mod run;
mod screened;
mod trunk;

pub(super) use enter::enter;
