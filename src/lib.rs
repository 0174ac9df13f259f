//! Bayrun checks job specs of small-duct, high-velocity heating and cooling installations
//! against physics and trade rules, and compiles them into the packet that a crew builds from.
//!
//! Folders are read in the order in which the data travels.

pub mod catalog;
pub mod figures;
pub mod language;
pub mod quantity;
pub mod source;
