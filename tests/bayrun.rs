//! The one integration test binary.

#![allow(
    clippy::pedantic,
    clippy::needless_range_loop,
    clippy::type_complexity,
    clippy::int_plus_one,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::string_slice,
    clippy::print_stdout,
    clippy::print_stderr,
    unreachable_pub,
    reason = "a test that stops loudly is a test that failed"
)]

mod cases;
mod catalog;
mod circuit;
mod comfort;
mod commands;
mod corpus;
mod drains;
mod edits;
mod examples;
mod faults;
mod feeds;
mod generate;
mod layers;
mod material;
mod mended;
mod network;
mod packet;
mod quantity;
mod reference;
mod registry;
mod robust;
mod standing;
mod suggest;
mod switching;
mod water;
mod weather;
mod wiring;
mod support {
    //! What several test files share.
    pub mod cases;
}
