//! The one-file web page: no scripts, nothing fetched, readable on a phone.

mod one_file;

pub(crate) use one_file::template_words;
pub use one_file::{PageError, html};
