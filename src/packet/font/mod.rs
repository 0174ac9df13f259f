//! The shipped font: its bytes, for the web page and the page program, and the one width of a text.

mod face;

pub use face::{FAMILY, FontFile, Weight, break_long_words, drawable, text_width};
