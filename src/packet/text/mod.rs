//! Printed text: a figure, a quotation, or words of the table. No other number reaches paper.

mod material;
mod phrase;
mod printed;
mod quoted;
mod reported;
mod run;
mod words;

pub use phrase::{Phrase, plural, say};
pub use printed::Text;
pub use run::{Run, RunKind};
pub use words::{Piece, Words};
