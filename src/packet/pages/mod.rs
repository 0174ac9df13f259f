//! The pages of the packet, one file each, collected in the order of work.
//!
//! A page's file takes the checked job and adds its pages; it prints figures of the ledger, quotations and
//! words, and computes nothing but places on paper.

mod cover;
mod cut_tags;
mod order;
mod plan;
mod return_air;
mod schedule;
mod setting;
mod source;
mod trunk_chart;
mod view;

pub(super) use cut_tags::runs_of;
pub use order::pages;
pub(super) use schedule::{figure_or_empty, run_to, surface};
pub use source::PageSource;
