//! Supply air.

pub(super) mod adapter_unfit;
pub(super) mod blower_without_working_point;
pub(super) mod first_piece_fixed;
pub(super) mod outlets_too_few;
pub(super) mod room_beyond_reach;
pub(super) mod room_without_outlet;
pub(super) mod run_too_long;
pub(super) mod run_too_many_bends;
pub(super) mod run_too_short;
pub(super) mod takeoff_near_fitting;
pub(super) mod takeoffs_too_close;
pub(super) mod trunk_end_open;
