//! The set on disk: web page, JSON, lists and the printed packet, written whole or not at all.

mod contents;
mod earlier;
mod list;
mod swap;

pub use contents::{Printer, SetError, Written, write_set};
pub use list::{Cell, HOLES, List, ListForm, ORDER, OUTLETS, PIECES, READINGS, WIRES};
