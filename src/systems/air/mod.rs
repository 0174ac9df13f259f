//! Supply air, as far as geometry and the trade's figures go: rooms, runs, trunks. Pressures come with the solver.

mod enter;
mod mixing;
mod room;
mod run;
mod screened;
mod trunk;

pub(super) use enter::enter;
