//! Enters the figures of every drain, pan and pump.

use crate::catalog::Catalog;
use crate::figures::Ledger;
use crate::model::Model;

use super::{
    capacity, ending, legs, moisture, pan, pump, reach, sag, space, suction, trap, trap_room,
};

/// Enters the figures of every drain, those of the suction and the water at each unit's pan first.
pub(in crate::systems) fn enter(model: &Model, catalog: &Catalog, ledger: &mut Ledger) {
    for unit in model.air_handlers.values() {
        suction::enter(unit, ledger);
        moisture::unit(model, unit, ledger);
    }
    for drain in model.drains.values() {
        moisture::drain(model, drain, ledger);
    }
    for drain in model.drains.values() {
        trap::enter(drain, ledger);
        trap_room::enter(model, catalog, drain, ledger);
        legs::enter(drain, ledger);
        reach::enter(model, drain, ledger);
        ending::enter(model, catalog, drain, ledger);
        space::enter(model, drain, ledger);
        capacity::enter(model, catalog, drain, ledger);
        sag::enter(model, catalog, drain, ledger);
    }
    for pan in model.pans.values() {
        pan::enter(model, pan, ledger);
    }
    for one in model.pumps.values() {
        pump::enter(model, catalog, one, ledger);
    }
    // How high a drain ends over its pump hangs on the pump's own figures.
    for drain in model.drains.values() {
        reach::end_above(model, drain, ledger);
    }
}
