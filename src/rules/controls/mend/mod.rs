//! The one change that mends what is found on the control wiring, looked for by trying.

mod change;
mod choice;
mod settle;
mod tell;

pub use settle::settle;
