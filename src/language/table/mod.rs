//! The one table of words: what each means, what may follow it, and what its block may hold.
//!
//! It drives reading, the reference page, help, and later the formatter and the editor.

mod air;
mod controls;
mod house;
mod job;
mod possible;
mod power;
mod route;
mod unit;
mod water;
mod word;

pub(crate) use possible::VOLTS;
pub(super) use possible::{POSSIBLE, Possible, possible};
pub use word::{Need, Word, all_words};

/// The words that stand at the top of a file, by subject.
pub static TOP: &[&[Word]] = &[
    job::WORDS,
    house::WORDS,
    unit::WORDS,
    air::WORDS,
    water::WORDS,
    power::WORDS,
    controls::WORDS,
    job::EVERYWHERE,
];
