//! Text to entries: lines into pieces, pieces into blocks, blocks read against one table of words.
//!
//! Reading never fails as a whole: a line that does not fit is one finding, and the rest is read.

mod cursor;
mod entry;
mod impossible;
mod load;
mod matcher;
mod mend;
mod mistake;
mod nearness;
mod parse;
mod pattern;
mod reference;
mod table;
mod token;

pub(crate) use impossible::impossible;
pub(crate) use load::beside;
pub(crate) use mistake::{AMOUNT_MISREAD, BAD_INCLUDE};
pub(crate) use nearness::{with_article, word_distance};
pub(crate) use table::VOLTS;

pub use entry::{Asked, Entry, Field, Unknown, Value};
pub use load::{Limits, Loaded, Root, load};
pub use mistake::KINDS as PARSE_KINDS;
pub use pattern::{Element, Shape, Slot, SlotType};
pub use reference::reference_page;
pub use table::{Need, TOP, Word, all_words};
pub use token::{Token, TokenKind, tokens};
