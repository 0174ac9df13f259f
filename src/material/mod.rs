//! Pieces, cut lists and the order, from routes and stock.

mod take_off;

pub use take_off::{Material, take_off};
