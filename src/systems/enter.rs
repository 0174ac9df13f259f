//! Enters the figures of every system, in the order in which they need one another.

use crate::catalog::{Catalog, Standards};
use crate::figures::Ledger;
use crate::model::Model;

use super::{
    access, air, comfort, controls, drain, plan, power, profile, start_up, water, weather,
};

/// What figures are wanted for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// To judge a job: what every rule asks first. What a report of the air adds, such as what another tap would
    /// do, and what only pages show, is left out.
    Judging,
    /// To judge it and to print it: all of them.
    Printing,
}

/// The figures of a job, with what the shop sets in place of common practice.
pub fn figure(model: &Model, catalog: &Catalog, standards: &Standards, purpose: Purpose) -> Ledger {
    let mut ledger = Ledger::default();
    let loops = water::enter_flows(model, catalog, &mut ledger);
    air::enter(model, catalog, standards, purpose, &mut ledger);
    comfort::enter(model, catalog, purpose, &mut ledger);
    weather::enter(model, catalog, standards, purpose, &mut ledger);
    water::enter_boilers(model, catalog, &loops, &mut ledger);
    drain::enter(model, catalog, &mut ledger);
    power::enter(model, catalog, &mut ledger);
    controls::enter(model, catalog, &mut ledger);
    access::enter(model, catalog, &mut ledger);
    profile::enter(model, catalog, &mut ledger);
    if purpose == Purpose::Printing {
        power::enter_supports(model, catalog, &mut ledger);
        controls::enter_table(model, catalog, &mut ledger);
        plan::enter(model, catalog, &mut ledger);
        start_up::enter(model, standards, &mut ledger);
    }
    ledger
}
