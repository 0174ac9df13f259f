//! Control wiring.

mod lost_call;
mod mend;
mod proved;
mod told;
mod way;

pub(super) mod blower_runs_on_twice;
pub(super) mod blower_stops_with_freeze;
pub(super) mod cable_not_for_outdoors;
pub(super) mod call_always_on;
pub(super) mod call_lost;
pub(super) mod call_not_closed;
pub(super) mod call_not_driven;
pub(super) mod call_reaches_nothing;
pub(super) mod called_at_rest;
pub(super) mod called_by_other;
pub(super) mod called_by_other_unit;
pub(super) mod calls_joined;
pub(super) mod circuits_meet;
pub(super) mod circulator_started_wrong;
pub(super) mod class_two_exceeded;
pub(super) mod colour_not_in_cable;
pub(super) mod colour_twice;
pub(super) mod common_missing;
pub(super) mod compressor_not_kept_off;
pub(super) mod conductors_too_many;
pub(super) mod control_voltage_low;
pub(super) mod controls_missing;
pub(super) mod driven_past_safeties;
pub(super) mod fed_through_loads;
pub(super) mod leak_without_blower;
pub(super) mod power_joined_to_common;
pub(super) mod relay_drops_itself_out;
pub(super) mod runs_with_safety_open;
pub(super) mod safety_loop_open;
pub(super) mod safety_lost_by_one_wire;
pub(super) mod shorted_by_call;
pub(super) mod terminal_overfilled;
pub(super) mod thermostat_missing;
pub(super) mod thermostat_unfed;
pub(super) mod transformer_overloaded;
pub(super) mod transformers_joined;
pub(super) mod transformers_tied;

pub use mend::settle;

use lost_call::{Lost, lost_calls};
use way::{asked, free_colour, free_colours, from_to, last_words, wire_to_add};
