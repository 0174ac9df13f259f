//! The job that a search looks at, and what its proposals are put together from.

use super::change::{Change, Part};
use crate::catalog::Catalog;
use crate::model::{Model, Room, Run};
use crate::source::{Edit, Files};

/// What a search may look at.
#[derive(Clone, Copy, Debug)]
pub struct Job<'a> {
    /// The job as written.
    pub model: &'a Model,
    /// Its equipment and stock.
    pub catalog: &'a Catalog,
    /// Its texts.
    pub files: &'a Files,
}

impl<'a> Job<'a> {
    /// The room that a run feeds.
    pub(super) fn room_of(&self, run: &Run) -> Option<&'a Room> {
        let outlet = run.outlet.as_ref()?;
        self.model
            .house
            .rooms
            .values()
            .find(|room| room.outlets.iter().any(|known| known.name == *outlet))
    }

    /// A change of a run by one edit.
    pub(super) fn of_run(&self, run: &Run, part: Part, edit: Edit) -> Change {
        Change {
            thing: run.name.clone(),
            room: self.room_of(run).map(|room| room.name.clone()),
            part,
            edits: vec![edit],
        }
    }
}
