//! Control wiring as a net of terminals: which terminal drives which, by which conductors.

mod drive;
mod enter;
mod load;
mod netlist;

pub use drive::{Drive, Driver};
pub(super) use enter::enter;
pub use netlist::{Join, Netlist, Place, Point};
