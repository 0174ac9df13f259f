//! Printed text: a figure, a quotation, or words of the table. No other number reaches paper.

mod material;
mod printed;
mod words;

pub use printed::{Phrase, Run, RunKind, Text, plural, say};
pub use words::{Piece, Words};
