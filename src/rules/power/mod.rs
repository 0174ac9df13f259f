//! The electrical feed.

mod front;
mod positions;
mod section;
mod voltage_left;

pub(super) mod breaker_not_standard;
pub(super) mod breaker_over_conductor;
pub(super) mod breaker_over_plate;
pub(super) mod breaker_poles_wrong;
pub(super) mod breaker_under_plate;
pub(super) mod cable_supports_wide;
pub(super) mod circuit_missing;
pub(super) mod conductor_missing;
pub(super) mod conductor_not_in_cable;
pub(super) mod conductor_on_wrong_terminal;
pub(super) mod conductor_under_plate;
pub(super) mod control_cable_for_power;
pub(super) mod disconnect_missing;
pub(super) mod disconnect_out_of_sight;
pub(super) mod disconnect_space_blocked;
pub(super) mod disconnect_too_small;
pub(super) mod empty_terminal_used;
pub(super) mod fuses_missing;
pub(super) mod grounding_conductor_missing;
pub(super) mod grounding_conductor_thin;
pub(super) mod hot_on_white;
pub(super) mod jumper_missing;
pub(super) mod jumper_not_of_setting;
pub(super) mod light_missing;
pub(super) mod limited_access_small;
pub(super) mod outdoor_circuit_unprotected;
pub(super) mod panel_cannot_supply;
pub(super) mod panel_full;
pub(super) mod panel_overloaded;
pub(super) mod panel_space_blocked;
pub(super) mod position_taken_twice;
pub(super) mod positions_not_a_pair;
pub(super) mod power_and_control_together;
pub(super) mod receptacle_too_far;
pub(super) mod receptacle_unprotected;
pub(super) mod starting_voltage_low;
pub(super) mod supply_outside_setting;
pub(super) mod voltage_drop_high;
pub(super) mod wiring_in_duct;
pub(super) mod working_height_low;

use section::Section;
