//! Enters the figures of every system, in the order in which they need one another.

use crate::catalog::{Catalog, Standards};
use crate::figures::Ledger;
use crate::model::Model;

use super::{access, air, comfort, controls, drain, plan, power, profile, start_up};

/// All figures of a job, with what the shop sets in place of common practice.
pub fn figure(model: &Model, catalog: &Catalog, standards: &Standards) -> Ledger {
    let mut ledger = Ledger::default();
    air::enter(model, catalog, standards, &mut ledger);
    comfort::enter(model, catalog, &mut ledger);
    drain::enter(model, catalog, &mut ledger);
    power::enter(model, catalog, &mut ledger);
    controls::enter(model, catalog, &mut ledger);
    access::enter(model, catalog, &mut ledger);
    plan::enter(model, catalog, &mut ledger);
    profile::enter(model, catalog, &mut ledger);
    start_up::enter(model, standards, &mut ledger);
    ledger
}
