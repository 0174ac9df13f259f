//! The control wiring of a job as it is asked about again and again: built once, its faults found once.

use std::sync::OnceLock;

use crate::catalog::Catalog;
use crate::model::Model;

use super::{Breach, Circuit, Fault, Netlist, Stray, Unrest};

/// Terminals and conductors, the circuit they make, and what goes wrong when it runs.
#[derive(Debug)]
pub struct Wiring<'n> {
    /// What is joined to what.
    pub net: &'n Netlist,
    /// The circuit.
    pub circuit: Circuit<'n>,
    faults: OnceLock<Vec<Fault>>,
    breaches: OnceLock<Vec<Breach>>,
    unrest: OnceLock<Unrest>,
    strays: OnceLock<Vec<Stray>>,
}

impl<'n> Wiring<'n> {
    /// The circuit over the netlist of a job.
    pub fn of(net: &'n Netlist, model: &Model, catalog: &Catalog) -> Self {
        Self {
            net,
            circuit: Circuit::of(net, model, catalog),
            faults: OnceLock::new(),
            breaches: OnceLock::new(),
            unrest: OnceLock::new(),
            strays: OnceLock::new(),
        }
    }

    /// Finds what goes wrong ahead of the rules that ask for it.
    pub fn run(&self, model: &Model) {
        self.breaches(model);
        self.faults();
    }

    /// What does not hold over the truth table; nothing where a shorted transformer stops everything.
    pub fn breaches(&self, model: &Model) -> &[Breach] {
        self.breaches.get_or_init(|| {
            if self.circuit.is_shorted() {
                Vec::new()
            } else {
                self.circuit.breaches(model)
            }
        })
    }

    /// What goes wrong at one call or another; nothing where a shorted transformer stops everything.
    pub fn faults(&self) -> &[Fault] {
        self.faults.get_or_init(|| {
            if self.circuit.is_shorted() {
                Vec::new()
            } else {
                self.circuit.faults()
            }
        })
    }

    /// Transformers that contacts short-circuit, and what drops itself out.
    pub fn unrest(&self) -> &Unrest {
        self.unrest.get_or_init(|| self.circuit.unrest())
    }

    /// Loads that get voltage through others; nothing where transformers are shorted or drive each other.
    pub fn strays(&self, model: &Model, catalog: &Catalog) -> &[Stray] {
        self.strays.get_or_init(|| {
            let through = &self.unrest().through;
            let joined = |breach: &Breach| matches!(breach, Breach::Joined { .. });
            if through.is_empty() || self.breaches(model).iter().any(joined) {
                return Vec::new();
            }
            let ohms = self.circuit.ohms(model, catalog);
            self.circuit.strays(&ohms, through)
        })
    }
}
