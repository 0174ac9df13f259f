//! The lists of the packet, one file each: the same columns for every job.

mod collect;

pub use collect::lists;
