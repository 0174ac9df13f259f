//! Changes that would mend a job: proposed, tried on the whole pipeline, and only then said.

mod change;
mod job;
mod moves;
mod new_outlet;
mod orifice;
mod search;
mod standing;
mod text;

pub use change::{Change, Part};
pub use job::Job;
pub use search::{Aim, Step, Suggestion, suggest};
pub use standing::{RoomStanding, Standing};
pub use text::apply;
