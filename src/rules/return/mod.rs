//! Return air.

pub(super) mod cabinet_suction_high;
mod face;
pub(super) mod filter_face_fast;
pub(super) mod filter_past_change;
pub(super) mod grille_face_fast;
pub(super) mod return_curve_left;
pub(super) mod return_duct_narrow;
pub(super) mod return_from_unfit_room;
pub(super) mod return_path_shut;
