//! The control wiring as sources, switches and loads between its points.
//!
//! A point is a terminal, a conductor or a splice of the net, or a hidden one inside a unit.

use crate::catalog::{Call, Catalog, Feed, Role};
use crate::model::Model;
use crate::physics::switching::{Condition, Contact as Switching, Drawn, Network};

use super::netlist::{Netlist, Place};
use super::safety::Safety;
use super::state::State;

/// What moves a contact.
#[derive(Clone, Debug)]
pub(super) enum Gate {
    /// A thermostat that calls, while the load that stands for it is fed.
    Call {
        unit: String,
        call: Call,
        fed_by: Option<usize>,
    },
    /// The coil of a relay; whether the contact rests open.
    Coil { relay: usize, rests_open: bool },
    /// A unit's own board: closed while it takes the call, each of the loops is closed and none of its own safeties
    /// has tripped.
    Board {
        load: usize,
        loops: Vec<[usize; 2]>,
        safeties: Vec<usize>,
    },
    /// A safety with leads of its own; whether it conducts while it has tripped.
    Safety { safety: usize, tripped: bool },
}

/// A contact between two points.
#[derive(Clone, Debug)]
pub(super) struct Contact {
    pub(super) one: usize,
    pub(super) other: usize,
    pub(super) gate: Gate,
}

/// What takes current between two points.
#[derive(Clone, Debug)]
pub struct Load {
    /// The terminal.
    pub at: usize,
    /// The point where the current leaves it.
    pub(super) back: usize,
    /// The relay whose coil it is.
    pub(super) relay: Option<usize>,
    /// The call that it takes; none for a coil or a thermostat.
    pub call: Option<Call>,
    /// The call that a relay's coil is there for, where the job says what the relay starts.
    pub starts: Option<Call>,
}

impl Load {
    /// Whether it is the coil of a relay.
    pub const fn is_coil(&self) -> bool {
        self.relay.is_some()
    }

    /// Whether two neighbours of a way are its two ends.
    pub(super) fn is_between(&self, pair: &[usize]) -> bool {
        pair.contains(&self.at) && pair.contains(&self.back)
    }

    /// The call that it is there for.
    pub fn wanted(&self) -> Option<Call> {
        self.call.or(self.starts)
    }
}

/// The two sides of a transformer.
#[derive(Clone, Copy, Debug)]
pub(super) struct Source {
    pub(super) hot: usize,
    pub(super) cold: usize,
}

/// What an input of the network stands for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Input {
    /// A thermostat that calls.
    Call { unit: String, call: Call },
    /// A safety that has tripped, by its number.
    Tripped(usize),
}

/// Contacts that move together and fail together: a relay's, or one output of a unit's board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mover {
    /// As the job names it: `heat-relay`, `ah.YO`.
    pub name: String,
    /// The contacts, and whether each is closed when they are pulled in.
    pub(super) contacts: Vec<(usize, bool)>,
}

/// The wiring of a job, ready to be run.
#[derive(Debug)]
pub struct Circuit<'n> {
    pub(super) net: &'n Netlist,
    /// How many points there are, hidden ones among them.
    pub(super) size: usize,
    /// Points that are one inside a unit.
    pub(super) ties: Vec<[usize; 2]>,
    pub(super) contacts: Vec<Contact>,
    pub(super) loads: Vec<Load>,
    pub(super) sources: Vec<Source>,
    /// Terminals that stand on the circuit of a unit with a transformer of its own, and that unit's number.
    pub(super) apart: Vec<(usize, usize)>,
    /// What the thermostats can call for, no call first.
    pub(super) states: Vec<State>,
    /// What can trip.
    pub(super) safeties: Vec<Safety>,
    pub(super) inputs: Vec<Input>,
    /// What can fail.
    pub(super) movers: Vec<Mover>,
    /// Joins of the net first, each under its own number, then ties.
    pub(super) network: Network,
    /// The network as wired.
    pub(super) drawn: Drawn,
}

/// Whether equipment of this model brings a transformer of its own.
pub fn feeds_itself(catalog: &Catalog, model: &str) -> bool {
    let boiler = catalog
        .boilers
        .get(model)
        .map(|sheet| &sheet.own_transformer);
    let chiller = catalog
        .chillers
        .get(model)
        .map(|sheet| &sheet.own_transformer);
    boiler
        .or(chiller)
        .is_some_and(|own| own.get() == Some(true))
}

/// Whether a thermostat works only while it is fed through its common.
pub fn needs_common(model: &Model, catalog: &Catalog, thermostat: &str) -> bool {
    let Some(thermostat) = model.thermostats.get(thermostat) else {
        return false;
    };
    let fed = thermostat
        .model
        .as_ref()
        .and_then(|model| catalog.thermostats.get(&model.value))
        .and_then(|sheet| sheet.fed_by.get());
    let said = model
        .entries
        .iter()
        .find(|entry| entry.span == thermostat.span)
        .and_then(|entry| entry.child("powered"))
        .and_then(|child| child.text("by").known())
        .is_some_and(|by| by.value == "common");
    match fed {
        Some(Feed::Common) => true,
        Some(Feed::Either) => said,
        _ => false,
    }
}

impl<'n> Circuit<'n> {
    /// The wiring of `net`.
    pub fn of(net: &'n Netlist, model: &Model, catalog: &Catalog) -> Self {
        let empty = Network::default();
        let mut circuit = Self {
            net,
            size: net.points().count(),
            ties: Vec::new(),
            contacts: Vec::new(),
            loads: Vec::new(),
            sources: Vec::new(),
            apart: Vec::new(),
            states: State::all(net, model, catalog),
            safeties: Safety::all(net, model, catalog),
            inputs: Vec::new(),
            movers: Vec::new(),
            drawn: empty.drawn(None),
            network: empty,
        };
        circuit.relays(model);
        for unit in model.air_handlers.values() {
            circuit.fed_unit(&unit.name);
            circuit.board(model, &unit.name);
        }
        for unit in model.equipment.values() {
            let own = unit
                .model
                .as_ref()
                .is_some_and(|named| feeds_itself(catalog, &named.value));
            if own && !circuit.with(&unit.name, Role::Switch).is_empty() {
                circuit.self_fed(&unit.name);
            } else {
                circuit.fed_unit(&unit.name);
            }
        }
        circuit.thermostats(model, catalog);
        circuit.switches();
        circuit.network();
        circuit
    }

    /// The terminals of a unit with a role.
    pub(super) fn with(&self, unit: &str, role: Role) -> Vec<usize> {
        self.net
            .points()
            .filter(|(_, point)| point.unit() == Some(unit) && point.role() == Some(role))
            .map(|(n, _)| n)
            .collect()
    }

    /// Makes the network of all that.
    fn network(&mut self) {
        let mut inputs: Vec<Input> = (0..self.safeties.len()).map(Input::Tripped).collect();
        let mut input_of = |wanted: Input| {
            inputs
                .iter()
                .position(|input| *input == wanted)
                .unwrap_or_else(|| {
                    inputs.push(wanted);
                    inputs.len() - 1
                })
        };
        let contacts = self
            .contacts
            .iter()
            .map(|contact| {
                let closed_when = match &contact.gate {
                    Gate::Call { unit, call, fed_by } => {
                        let input = input_of(Input::Call {
                            unit: unit.clone(),
                            call: *call,
                        });
                        let fed = fed_by.map(|load| Condition::Fed(load, true));
                        [Condition::Input(input, true)]
                            .into_iter()
                            .chain(fed)
                            .collect()
                    }
                    Gate::Coil { relay, rests_open } => {
                        let coil = self
                            .loads
                            .iter()
                            .position(|load| load.relay == Some(*relay));
                        vec![Condition::Fed(coil.unwrap_or(usize::MAX), *rests_open)]
                    }
                    Gate::Board {
                        load,
                        loops,
                        safeties,
                    } => [Condition::Fed(*load, true)]
                        .into_iter()
                        .chain(loops.iter().map(|ends| Condition::Joined(*ends)))
                        .chain(safeties.iter().map(|n| Condition::Input(*n, false)))
                        .collect(),
                    Gate::Safety { safety, tripped } => {
                        vec![Condition::Input(*safety, *tripped)]
                    }
                };
                Switching {
                    ends: [contact.one, contact.other],
                    closed_when,
                }
            })
            .collect();
        // A join inside a switch is its contact; its number stays taken.
        let joins = self.net.joins().iter().map(|join| match join.words {
            Some(_) => [join.one, join.other],
            None => [join.one, join.one],
        });
        self.network = Network {
            points: self.size,
            joins: joins.chain(self.ties.iter().copied()).collect(),
            contacts,
            loads: self.loads.iter().map(|load| [load.at, load.back]).collect(),
            sources: self
                .sources
                .iter()
                .map(|source| [source.hot, source.cold])
                .collect(),
        };
        self.inputs = inputs;
        self.drawn = self.network.drawn(None);
    }

    /// The loads that take a call.
    pub fn callers(&self) -> impl Iterator<Item = (usize, &Load, Call)> {
        self.loads
            .iter()
            .enumerate()
            .filter_map(|(n, load)| Some((n, load, load.call?)))
    }

    /// What the thermostats can call for, no call first.
    pub fn states(&self) -> &[State] {
        &self.states
    }

    /// The circuit that a terminal stands on by itself: that of a unit with its own transformer, or an air handler's.
    pub(super) fn belongs(&self, point: usize) -> Option<usize> {
        let own = self.apart.iter().find(|(n, _)| *n == point);
        if let Some((_, number)) = own {
            return Some(*number);
        }
        let at = self.net.at(point)?;
        let Place::Terminal { kind, role, .. } = &at.place else {
            return None;
        };
        let live = *kind == "air-handler" && !matches!(role, Some(Role::Sensor | Role::Unused));
        live.then_some(usize::MAX)
    }
}
