//! Enters the figures of supply air.

use crate::catalog::Catalog;
use crate::figures::Ledger;
use crate::model::Model;

use super::{circuit, room, run, trunk};

/// Rooms, then trunks, then the runs between them, then the air that moves in them.
pub(in crate::systems) fn enter(model: &Model, catalog: &Catalog, ledger: &mut Ledger) {
    room::enter(model, catalog, ledger);
    trunk::enter(model, ledger);
    run::enter(model, ledger);
    let units = circuit::solve_all(model, catalog);
    circuit::enter(model, &units, ledger);
}
