//! Pieces, cut lists and lists of whole jobs, against figures worked by hand.

mod packing;
mod take_off;
