//! What follows from the airflow: the coil's state, the air on its way to each outlet, loads against capacity, and
//! the temperature that each room settles at.

mod coil;
pub(super) mod design;
mod enter;
mod entering;
pub(super) mod gap;
mod heat;
mod heat_pump;
mod ice;
mod insulation;
mod load;
mod need;
mod readings;
mod settle;
pub(super) mod space;
mod tube;
mod way;

pub(super) use coil::held_table;
pub(super) use enter::enter;
