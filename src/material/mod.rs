//! Pieces, cut lists and the order, from routes and stock.
//!
//! Walks the model's routes, takes off what fittings take up, packs the pieces into stock lengths and counts
//! everything else. What the catalog does not hold or the job does not know yet is listed with the reason.

mod cable;
mod cut_list;
mod desk;
mod drain;
mod equipment;
mod fastening;
mod figure;
mod hanger;
mod hole;
mod hole_place;
mod line_set;
mod lists;
mod need;
mod outlet;
mod piece;
mod pipe_fitting;
mod pipe_node;
mod pipe_route;
mod reading;
mod room_left;
mod sealant;
mod stock;
mod take_off;
mod trunk;
mod trunk_fitting;
mod trunk_node;
mod tube;
mod water_pipe;
mod wire;

pub use cut_list::{CutBar, CutList};
pub use hole::{Hole, HoleKind};
pub use lists::List;
pub use need::{Need, Unit};
pub use outlet::OutletRow;
pub use piece::{Piece, System};
pub use reading::Reading;
pub use stock::Shelf;
pub use take_off::{Material, take_off};
pub use wire::WireRow;
