//! The electrical feed: plate at the setting in force, ampacity of the cable as it lies, voltage lost on the way.

mod conductor;
mod enter;
mod plate;

pub use conductor::cable_of;
pub(super) use enter::enter;
pub use plate::{Plate, is_astray, is_fed_outside, plate_of, setting_of};
