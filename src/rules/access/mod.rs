//! Setting and access.

pub(super) mod attic_opening_too_small;
mod blame;
pub(super) mod cabinet_collision;
pub(super) mod clearance_too_small;
pub(super) mod passage_floor_narrow;
pub(super) mod passage_too_long;
pub(super) mod passage_too_small;
pub(super) mod piece_too_large;
pub(super) mod service_space_blocked;
pub(super) mod trunk_collision;
pub(super) mod working_space_blocked;
