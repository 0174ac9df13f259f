//! Enters the figures of every drain.

use crate::catalog::Catalog;
use crate::figures::Ledger;
use crate::model::Model;

use super::{ending, legs, suction, trap};

/// Enters the figures of every drain, those of the suction at each unit's pan first.
pub(in crate::systems) fn enter(model: &Model, catalog: &Catalog, ledger: &mut Ledger) {
    for unit in model.air_handlers.values() {
        suction::enter(unit, ledger);
    }
    for drain in model.drains.values() {
        trap::enter(drain, ledger);
        legs::enter(drain, ledger);
        ending::enter(model, catalog, drain, ledger);
    }
}
