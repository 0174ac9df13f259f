//! The command line: reads arguments, asks the library, prints. Nothing is computed here.

pub mod calc;

mod check;
mod figures;
mod jobs;
mod options;
mod outcome;
mod packet;
mod start;
mod suggest;
mod why;

pub use outcome::Outcome;
pub use start::main;
