//! Bayrun checks job specs of small-duct, high-velocity heating and cooling installations
//! against physics and trade rules, and compiles them into the packet that a crew builds from.
//!
//! Folders are read in the order in which the data travels: [`source`] and [`quantity`] are the ground;
//! [`language`] turns text into entries; [`catalog`] reads equipment and stock; [`model`] places the job in
//! the house; [`physics`] computes and knows no job; [`figures`] is the ledger of everything computed;
//! [`systems`] enters the figures; [`material`] makes pieces and lists; [`rules`] judge; [`packet`] prints.
//! [`advise`] tries changes.
//! [`workshop`] runs a job through all of them; [`cli`] is the command line.

// The grammar's generated code names it: without `std`, pest looks at the stack's size nowhere on the way.
extern crate alloc;

pub mod advise;
pub mod catalog;
pub mod cli;
pub mod figures;
pub mod language;
pub mod material;
pub mod model;
pub mod packet;
pub mod physics;
pub mod quantity;
pub mod rules;
pub mod source;
pub mod systems;
pub mod workshop;

pub use workshop::{Checked, Workshop};
