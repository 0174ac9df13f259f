//! Dimensions of pipe and tube, each standard's table a data file beside the function that finds them.

mod find;

pub use find::{Pipe, find, socket_depth};
