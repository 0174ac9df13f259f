//! Changes that would mend a job: proposed, tried on the whole pipeline, and only then said.

mod change;
mod moves;
mod search;
mod standing;
mod text;

pub use change::{Change, Part};
pub use moves::Job;
pub use search::{Aim, Step, Suggestion, suggest};
pub use standing::{RoomStanding, Standing};
pub use text::apply;
