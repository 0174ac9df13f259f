//! The lists of the packet, one file each: the same columns for every job.

mod collect;
mod holes;
mod outlets;

pub use collect::lists;
