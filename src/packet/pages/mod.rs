//! The pages of the packet, one file each, collected in the order of work.
//!
//! A page's file takes the checked job and adds its pages; it prints figures of the ledger, quotations and
//! words, and computes nothing but places on paper.

mod cover;
mod order;
mod source;

pub use order::pages;
pub use source::PageSource;
