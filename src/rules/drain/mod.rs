//! Condensate drains.

mod suction_place;

pub(super) mod air_gap_too_small;
pub(super) mod cleanout_glued;
pub(super) mod cleanout_missing;
pub(super) mod drain_joined_solid;
pub(super) mod drain_missing;
pub(super) mod end_joint_not_stated;
pub(super) mod end_not_stated;
pub(super) mod leg_flatter_than_usual;
pub(super) mod leg_rises;
pub(super) mod leg_too_flat;
pub(super) mod pipe_reduced;
pub(super) mod pipe_too_small;
pub(super) mod supports_too_far;
pub(super) mod trap_below_practice;
pub(super) mod trap_floods;
pub(super) mod trap_missing;
pub(super) mod trap_seal_lost;
pub(super) mod trap_too_far;
pub(super) mod traps_in_series;
pub(super) mod vent_before_trap;

use suction_place::suction_place;
