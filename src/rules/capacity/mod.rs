//! What the equipment can do against what is asked of it.

mod against;
pub(super) mod coil_table_left;
pub(super) mod cooling_too_large;
pub(super) mod cooling_too_small;
pub(super) mod heat_too_small;
pub(super) mod moisture_left;
pub(super) mod sensible_too_small;
