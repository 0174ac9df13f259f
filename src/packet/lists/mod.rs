//! The lists of the packet, one file each: the same columns for every job.

mod collect;
mod holes;
mod outlets;
mod readings;
mod wires;

pub use collect::lists;
