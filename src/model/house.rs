//! The house: its stories, rooms and roofs, what is solid in it, and the ways to its units.

use indexmap::IndexMap;

use crate::quantity::Length;

use super::access::{Hatch, Path};
use super::outlet::Outlet;
use super::roof::Roof;
use super::room::Room;
use super::solid::Solid;
use super::story::Story;

/// The house.
#[derive(Clone, Debug, Default)]
pub struct House {
    /// Stories by name, in the order written.
    pub stories: IndexMap<String, Story>,
    /// Rooms by name.
    pub rooms: IndexMap<String, Room>,
    /// Obstacles, flues, walls, platforms.
    pub solids: Vec<Solid>,
    /// Roof planes.
    pub roofs: Vec<Roof>,
    /// Accesses by name.
    pub hatches: IndexMap<String, Hatch>,
    /// Ways from access to unit.
    pub paths: Vec<Path>,
}

impl House {
    /// All outlets, room by room.
    pub fn outlets(&self) -> impl Iterator<Item = &Outlet> {
        self.rooms.values().flat_map(|room| &room.outlets)
    }

    /// The outlet called `name`.
    pub fn outlet(&self, name: &str) -> Option<&Outlet> {
        self.outlets().find(|outlet| outlet.name == name)
    }

    /// The story whose floor-to-ceiling height holds `z`, the uppermost when two meet there.
    pub fn story_at(&self, z: Length) -> Option<&Story> {
        self.stories
            .values()
            .filter(|story| story.floor <= z && z <= story.floor + story.ceiling)
            .max_by_key(|story| story.floor)
    }
}
