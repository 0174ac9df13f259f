//! Control wiring as a net of terminals: which terminal drives which, by which conductors, and what runs for each call.

mod breach;
mod circuit;
mod drive;
mod enter;
mod enter_runs;
mod feed;
mod load;
mod meter;
mod netlist;
mod owner;
mod path;
mod running;
mod safety;
mod state;
mod table;
mod times;
mod verdict;
mod volts;
mod wiring;

pub use breach::Breach;
pub use circuit::{Circuit, Load, Mover, feeds_itself, needs_common};
pub use drive::{Drive, Driver};
pub(super) use enter::{enter, enter_table};
pub use enter_runs::slug;
pub use netlist::{Join, Netlist, Place, Point};
pub use owner::handlers_of;
pub use running::{Move, Running};
pub use safety::Safety;
pub use state::{State, serves};
pub use table::{Case, Failure, Row};
pub use verdict::{Fault, Mend, Wrong};
pub use volts::{CONTROL_VOLTS, Draw, Lowest, Ohms};
pub use wiring::Wiring;
