//! The lists of the packet, one file each: the same columns for every job.

mod collect;
mod holes;
mod order;
mod outlets;
mod pieces;
mod readings;
mod wires;

pub use collect::lists;
