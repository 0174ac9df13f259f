//! The electrical feed: plate at the setting in force, ampacity of the cable as it lies, voltage lost on the way.

mod code;
mod conductor;
mod demand;
mod disconnect;
mod drop;
mod enter;
mod given;
mod ground;
mod panel;
mod plate;
mod space;
mod started;
mod support;
mod together;

pub use code::edition_of;
pub use conductor::{cable_of, laid_of};
pub(super) use enter::enter;
pub use ground::ground_lacking;
pub use panel::{added, voltages};
pub use plate::{Plate, is_astray, is_fed_outside, plate_of, plate_of_unit, plates_of, setting_of};
pub use started::{Started, colour_of, is_white, started};
pub(super) use support::enter_supports;
pub use together::tightest;
