//! Every rule, sorted by code, and every sort of finding by code or name.

use crate::source::Kind;
use crate::{catalog, language, model};

use super::rule::Rule;
use super::{access, air, capacity, controls, drain, power, return_air};

/// The rules in order of their codes.
pub static RULES: &[&Rule] = &[
    &access::service_space_blocked::RULE,
    &access::cabinet_collision::RULE,
    &access::clearance_too_small::RULE,
    &access::working_space_blocked::RULE,
    &access::piece_too_large::RULE,
    &access::attic_opening_too_small::RULE,
    &access::passage_too_small::RULE,
    &access::passage_too_long::RULE,
    &access::passage_floor_narrow::RULE,
    &air::room_without_outlet::RULE,
    &air::takeoff_near_fitting::RULE,
    &air::takeoffs_too_close::RULE,
    &air::first_piece_fixed::RULE,
    &air::run_too_short::RULE,
    &air::run_too_long::RULE,
    &air::run_too_many_bends::RULE,
    &air::adapter_unfit::RULE,
    &air::trunk_end_open::RULE,
    &air::room_beyond_reach::RULE,
    &air::outlets_too_few::RULE,
    &air::blower_without_working_point::RULE,
    &air::airflow_per_ton_outside::RULE,
    &air::plenum_pressure_outside::RULE,
    &air::outlet_air_outside::RULE,
    &air::trunk_too_fast::RULE,
    &air::orifice_starves_run::RULE,
    &air::room_short_of_air::RULE,
    &air::room_long_of_air::RULE,
    &air::rooms_uneven::RULE,
    &air::coil_near_ice::RULE,
    &air::duct_insulation_thin::RULE,
    &air::filter_freezes_coil::RULE,
    &air::duct_gain_high::RULE,
    &air::tap_higher_than_needed::RULE,
    &air::trunk_over_pressure::RULE,
    &air::vapor_retarder_missing::RULE,
    &air::outlet_velocity_outside::RULE,
    &air::joint_unsealed::RULE,
    &air::zone_alone_strained::RULE,
    &controls::driven_past_safeties::RULE,
    &controls::call_reaches_nothing::RULE,
    &controls::call_not_driven::RULE,
    &controls::thermostat_unfed::RULE,
    &controls::common_missing::RULE,
    &controls::power_joined_to_common::RULE,
    &controls::transformers_tied::RULE,
    &controls::call_always_on::RULE,
    &controls::calls_joined::RULE,
    &controls::colour_twice::RULE,
    &controls::conductors_too_many::RULE,
    &controls::colour_not_in_cable::RULE,
    &controls::transformer_overloaded::RULE,
    &controls::safety_loop_open::RULE,
    &controls::called_at_rest::RULE,
    &controls::circuits_meet::RULE,
    &controls::call_not_closed::RULE,
    &controls::called_by_other::RULE,
    &controls::controls_missing::RULE,
    &controls::thermostat_missing::RULE,
    &drain::trap_missing::RULE,
    &drain::trap_floods::RULE,
    &drain::trap_seal_lost::RULE,
    &drain::trap_below_practice::RULE,
    &drain::trap_too_far::RULE,
    &drain::traps_in_series::RULE,
    &drain::vent_before_trap::RULE,
    &drain::cleanout_missing::RULE,
    &drain::cleanout_glued::RULE,
    &drain::leg_too_flat::RULE,
    &drain::leg_flatter_than_usual::RULE,
    &drain::leg_rises::RULE,
    &drain::pipe_too_small::RULE,
    &drain::pipe_reduced::RULE,
    &drain::end_not_stated::RULE,
    &drain::drain_joined_solid::RULE,
    &drain::air_gap_too_small::RULE,
    &drain::supports_too_far::RULE,
    &drain::end_joint_not_stated::RULE,
    &drain::drain_missing::RULE,
    &drain::drain_small_for_tons::RULE,
    &drain::unit_too_low::RULE,
    &drain::pressure_seal_short::RULE,
    &drain::vent_missing::RULE,
    &drain::vent_low::RULE,
    &drain::leg_sags::RULE,
    &drain::pipe_material_unfit::RULE,
    &drain::cleanout_out_of_reach::RULE,
    &drain::solvent_unfit::RULE,
    &drain::pump_cannot_lift::RULE,
    &drain::pump_tank_small::RULE,
    &drain::pump_switch_unwired::RULE,
    &drain::pump_runs_back::RULE,
    &drain::drain_below_pump::RULE,
    &drain::pan_too_small::RULE,
    &drain::pan_too_shallow::RULE,
    &drain::pan_sheet_thin::RULE,
    &drain::second_line_missing::RULE,
    &drain::overflow_unseen::RULE,
    &drain::secondary_port_low::RULE,
    &drain::switch_place_wrong::RULE,
    &drain::unit_below_rim::RULE,
    &drain::trap_freezes::RULE,
    &drain::drain_sweats::RULE,
    &drain::end_on_walkway::RULE,
    &drain::pipe_too_hot::RULE,
    &drain::leg_overfull::RULE,
    &power::breaker_over_plate::RULE,
    &power::breaker_not_standard::RULE,
    &power::breaker_poles_wrong::RULE,
    &power::conductor_under_plate::RULE,
    &power::breaker_over_conductor::RULE,
    &power::grounding_conductor_missing::RULE,
    &power::supply_outside_setting::RULE,
    &power::panel_cannot_supply::RULE,
    &power::empty_terminal_used::RULE,
    &power::jumper_missing::RULE,
    &power::jumper_not_of_setting::RULE,
    &power::conductor_on_wrong_terminal::RULE,
    &power::conductor_missing::RULE,
    &power::voltage_drop_high::RULE,
    &power::power_and_control_together::RULE,
    &power::position_taken_twice::RULE,
    &power::positions_not_a_pair::RULE,
    &power::disconnect_too_small::RULE,
    &power::disconnect_out_of_sight::RULE,
    &power::conductor_not_in_cable::RULE,
    &power::circuit_missing::RULE,
    &return_air::grille_face_fast::RULE,
    &return_air::filter_face_fast::RULE,
    &return_air::filter_past_change::RULE,
    &return_air::return_duct_narrow::RULE,
    &return_air::return_curve_left::RULE,
    &return_air::cabinet_suction_high::RULE,
    &return_air::return_path_shut::RULE,
    &return_air::return_from_unfit_room::RULE,
    &capacity::cooling_too_small::RULE,
    &capacity::cooling_too_large::RULE,
    &capacity::sensible_too_small::RULE,
    &capacity::moisture_left::RULE,
    &capacity::heat_too_small::RULE,
    &capacity::coil_table_left::RULE,
];

/// Every sort of finding: language, catalog, model, then rules.
pub fn kinds() -> impl Iterator<Item = &'static Kind> {
    language::PARSE_KINDS
        .iter()
        .copied()
        .chain(catalog::KINDS.iter().copied())
        .chain(model::KINDS.iter().copied())
        .chain(RULES.iter().map(|rule| &rule.kind))
}

fn named(kind: &Kind, word: &str) -> bool {
    kind.code.eq_ignore_ascii_case(word) || kind.name == word || kind.name.replace('_', "-") == word
}

/// The sort of finding with this code or name.
pub fn kind_named(word: &str) -> Option<&'static Kind> {
    kinds().find(|kind| named(kind, word))
}

/// The rule with this code or name.
pub fn rule_named(word: &str) -> Option<&'static Rule> {
    RULES.iter().copied().find(|rule| named(&rule.kind, word))
}
