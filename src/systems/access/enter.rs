//! Enters the figures of setting and access.

use crate::catalog::Catalog;
use crate::figures::Ledger;
use crate::model::Model;

use super::standing::standing;
use super::{clearance, passage, service_space, trunk_in_solid, working_space};

/// For each unit: what stands in its cabinet and its spaces, what stands near, the working space; then the ways in.
pub(in crate::systems) fn enter(model: &Model, catalog: &Catalog, ledger: &mut Ledger) {
    for unit in model.air_handlers.values() {
        if let Some(cabinet) = unit.cabinet {
            let things = standing(model, catalog, unit);
            let free = service_space::enter(model, catalog, unit, cabinet, things, ledger);
            clearance::enter(unit, cabinet, &free, ledger);
            working_space::enter(model, unit, cabinet, &free, ledger);
        }
    }
    trunk_in_solid::enter(model, catalog, ledger);
    passage::enter(model, ledger);
}
