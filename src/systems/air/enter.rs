//! Enters the figures of supply air.

use crate::catalog::Catalog;
use crate::figures::Ledger;
use crate::model::Model;

use super::{room, run, trunk};

/// Rooms, then trunks, then the runs between them.
pub(in crate::systems) fn enter(model: &Model, catalog: &Catalog, ledger: &mut Ledger) {
    room::enter(model, catalog, ledger);
    trunk::enter(model, ledger);
    run::enter(model, ledger);
}
