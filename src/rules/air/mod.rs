//! Supply air.

pub(super) mod adapter_unfit;
pub(super) mod airflow_per_ton_outside;
pub(super) mod blower_without_working_point;
pub(super) mod coil_near_ice;
pub(super) mod duct_insulation_thin;
pub(super) mod filter_freezes_coil;
pub(super) mod first_piece_fixed;
pub(super) mod orifice_starves_run;
pub(super) mod outlet_air_outside;
pub(super) mod outlets_too_few;
pub(super) mod plenum_pressure_outside;
pub(super) mod room_beyond_reach;
pub(super) mod room_long_of_air;
pub(super) mod room_short_of_air;
pub(super) mod room_without_outlet;
pub(super) mod rooms_uneven;
pub(super) mod run_too_long;
pub(super) mod run_too_many_bends;
pub(super) mod run_too_short;
pub(super) mod takeoff_near_fitting;
pub(super) mod takeoffs_too_close;
mod tap;
pub(super) mod trunk_end_open;
pub(super) mod trunk_too_fast;
