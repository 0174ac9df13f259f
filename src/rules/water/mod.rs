//! Hot water: pipes, coils, boilers and circulators.

mod boiler_return;

pub(super) mod backflow_preventer_missing;
pub(super) mod boiler_too_small;
pub(super) mod circulator_cannot;
pub(super) mod circulator_missing;
pub(super) mod coil_place_taken;
pub(super) mod coil_water_cooler;
pub(super) mod fill_too_low;
pub(super) mod flow_check_missing;
pub(super) mod freeze_protection_missing;
pub(super) mod high_point_without_vent;
pub(super) mod mixing_valve_missing;
pub(super) mod mixture_freezes;
pub(super) mod mixtures_differ;
pub(super) mod radiators_return_hot;
pub(super) mod relief_too_low;
pub(super) mod return_too_cold;
pub(super) mod return_too_warm_to_condense;
pub(super) mod steam_feeds_coil;
pub(super) mod water_enters_on_top;
pub(super) mod water_loop_open;
pub(super) mod water_pipe_grows;
pub(super) mod water_pipe_insulation_thin;
pub(super) mod water_pipe_misses_boiler;
pub(super) mod water_pipe_not_rated;
pub(super) mod water_pipe_supports_too_far;
pub(super) mod water_too_fast;
pub(super) mod water_too_hot;
pub(super) mod water_too_slow;
