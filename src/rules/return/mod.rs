//! Return air.

mod face;
pub(super) mod filter_face_fast;
pub(super) mod filter_past_change;
pub(super) mod grille_face_fast;
