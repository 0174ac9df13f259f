//! A cooling coil at the state, airflow and altitude it really works at: its maker's table, the air behind it,
//! its surface, and how far that is from ice.

mod apparatus;
mod freeze;
mod table;
mod working;
#[cfg(test)]
mod working_test;

pub use apparatus::{Apparatus, apparatus, leaving_air};
pub use freeze::{FreezeFlow, freeze_flow};
pub use table::{Beyond, Capacity, CapacityTable, TableFault, TablePoint, Variable};
pub use working::{CoilState, Regime, standard_airflow, working};
