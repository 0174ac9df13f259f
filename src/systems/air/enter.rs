//! Enters the figures of supply air.

use crate::catalog::{Catalog, Standards};
use crate::figures::Ledger;
use crate::model::Model;
use crate::systems::Purpose;
use crate::systems::water::WARMED;

use super::{circuit, door, room, run, trunk};

/// Rooms, then trunks, then the runs between them, then the air that moves in them.
pub(in crate::systems) fn enter(
    model: &Model,
    catalog: &Catalog,
    standards: &Standards,
    purpose: Purpose,
    ledger: &mut Ledger,
) {
    room::enter(model, catalog, standards, ledger);
    trunk::enter(model, ledger);
    run::enter(model, ledger);
    let warmed = ledger.real(WARMED);
    let units = circuit::solve_all(model, catalog, warmed, purpose);
    circuit::enter(model, &units, ledger);
    door::enter(model, ledger);
}
