//! The ledger: everything computed, with its formula in words, what it was computed from, and its source.
//!
//! Systems write figures; rules, material and packet read them. No number is computed twice.

mod face;
mod figure;
mod ledger;

pub use face::{figure_json, figures_csv, figures_human, ledger_json, why_human, why_json};
pub use figure::{Figure, FigureValue, Input, figure_id};
pub use ledger::Ledger;
