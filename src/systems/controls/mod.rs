//! Control wiring as a net of terminals: which terminal drives which, by which conductors, and what runs for each call.

mod circuit;
mod drive;
mod enter;
mod load;
mod netlist;
mod path;
mod running;
mod state;
mod verdict;
mod wiring;

pub use circuit::{Circuit, Load, feeds_itself};
pub use drive::{Drive, Driver};
pub(super) use enter::enter;
pub use netlist::{Join, Netlist, Place, Point};
pub use running::{Move, Running};
pub use state::{State, serves};
pub use verdict::{Fault, Mend, Wrong};
pub use wiring::Wiring;
