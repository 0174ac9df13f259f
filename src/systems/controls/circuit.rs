//! The control wiring as sources, switches and loads between its points.
//!
//! A point is a terminal, a conductor or a splice of the net, or a hidden one inside a unit. Safeties stand at rest:
//! their contacts are joins of the net without words.

use crate::catalog::{Call, CallSide, Catalog, Role, Stated};
use crate::model::Model;

use super::netlist::{Netlist, Place};
use super::state::State;

/// What moves a contact.
#[derive(Clone, Debug)]
pub(super) enum Gate {
    /// A thermostat that calls.
    Call { unit: String, call: Call },
    /// The coil of a relay; whether the contact rests open.
    Coil { relay: usize, rests_open: bool },
    /// A unit's own board: closed while it takes the call and each of the loops is closed.
    Board { load: usize, loops: Vec<[usize; 2]> },
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
    /// The call that it takes; none for a coil.
    pub call: Option<Call>,
}

/// The two sides of a transformer.
#[derive(Clone, Copy, Debug)]
pub(super) struct Source {
    pub(super) hot: usize,
    pub(super) cold: usize,
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

impl<'n> Circuit<'n> {
    /// The wiring of `net`.
    pub fn of(net: &'n Netlist, model: &Model, catalog: &Catalog) -> Self {
        let mut circuit = Self {
            net,
            size: net.points().count(),
            ties: Vec::new(),
            contacts: Vec::new(),
            loads: Vec::new(),
            sources: Vec::new(),
            apart: Vec::new(),
            states: State::all(net, model),
        };
        circuit.relays();
        circuit.thermostats(model);
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
        circuit
    }

    /// The terminals of a unit with a role.
    fn with(&self, unit: &str, role: Role) -> Vec<usize> {
        self.net
            .points()
            .filter(|(_, point)| point.unit() == Some(unit) && point.role() == Some(role))
            .map(|(n, _)| n)
            .collect()
    }

    /// The terminals of a unit that take a call.
    fn takers(&self, unit: &str) -> Vec<(usize, Call)> {
        self.net
            .points()
            .filter(|(_, point)| point.unit() == Some(unit))
            .filter_map(|(n, point)| match point.call() {
                Some((CallSide::In, call)) => Some((n, call)),
                _ => None,
            })
            .collect()
    }

    /// Makes one of several points; the first of them stands for all.
    fn tied(&mut self, points: &[usize]) -> Option<usize> {
        let first = points.first().copied()?;
        self.ties
            .extend(points.iter().skip(1).map(|other| [first, *other]));
        Some(first)
    }

    fn relays(&mut self) {
        for (n, relay) in self.net.relays.iter().enumerate() {
            if let [one, other] = relay.coil.as_slice() {
                self.loads.push(Load {
                    at: *one,
                    back: *other,
                    relay: Some(n),
                    call: None,
                });
            }
            for (list, rests_open) in [(&relay.open, true), (&relay.closed, false)] {
                for (pole, contact) in list.iter().enumerate() {
                    let common = relay.common.get(pole).or(relay.common.first());
                    if let Some(common) = common {
                        self.contacts.push(Contact {
                            one: *common,
                            other: *contact,
                            gate: Gate::Coil {
                                relay: n,
                                rests_open,
                            },
                        });
                    }
                }
            }
        }
    }

    fn thermostats(&mut self, model: &Model) {
        for thermostat in model.thermostats.values() {
            // Which of several inlets feeds a call no role says.
            let inlets = self.with(&thermostat.name, Role::PowerIn);
            let [inlet] = inlets.as_slice() else { continue };
            for (n, point) in self.net.points() {
                if let (Some((CallSide::Out, call)), true) =
                    (point.call(), point.unit() == Some(&thermostat.name))
                {
                    self.contacts.push(Contact {
                        one: *inlet,
                        other: n,
                        gate: Gate::Call {
                            unit: thermostat.name.clone(),
                            call,
                        },
                    });
                }
            }
        }
    }

    /// A unit that takes its calls against its common; it is a source where it has a hot side as well.
    fn fed_unit(&mut self, unit: &str) {
        let (power, common) = (self.with(unit, Role::Power), self.with(unit, Role::Common));
        let (hot, cold) = (self.tied(&power), self.tied(&common));
        if let (Some(hot), Some(cold)) = (hot, cold) {
            self.sources.push(Source { hot, cold });
        }
        let Some(back) = cold else { return };
        for (at, call) in self.takers(unit) {
            self.loads.push(Load {
                at,
                back,
                relay: None,
                call: Some(call),
            });
        }
    }

    /// A unit whose call closes between its own terminals, on a transformer of its own.
    fn self_fed(&mut self, unit: &str) {
        let others = self.with(unit, Role::Switch);
        let Some(hot) = self.tied(&others) else {
            return;
        };
        let number = self.size;
        let cold = self.size;
        self.size += 1;
        self.sources.push(Source { hot, cold });
        for (at, call) in self.takers(unit) {
            self.apart.push((at, number));
            self.loads.push(Load {
                at,
                back: cold,
                relay: None,
                call: Some(call),
            });
        }
        self.apart
            .extend(others.into_iter().map(|other| (other, number)));
    }

    /// The outputs of an air handler: each gives what the unit's hot side gives while its call is taken.
    fn board(&mut self, model: &Model, unit: &str) {
        let Some(sheet) = model.air_handlers.get(unit).map(|unit| &unit.sheet) else {
            return;
        };
        let Some(hot) = self.with(unit, Role::Power).first().copied() else {
            return;
        };
        let number = |name: &str| {
            self.net
                .points()
                .find(|(_, point)| {
                    point.unit() == Some(unit)
                        && point.name.strip_prefix(unit) == Some(&format!(".{name}"))
                })
                .map(|(n, _)| n)
        };
        let mut made = Vec::new();
        for (output, point) in self.net.points() {
            let Some((CallSide::Output, call)) = point.call() else {
                continue;
            };
            if point.unit() != Some(unit) {
                continue;
            }
            let input = self.loads.iter().position(|load| {
                load.call.is_some_and(|taken| taken == call)
                    && self.net.at(load.at).and_then(|at| at.unit()) == Some(unit)
            });
            let Some(load) = input else { continue };
            let mut loops = Vec::new();
            for safety in sheet.safeties.values() {
                let stops = safety
                    .stops
                    .iter()
                    .filter_map(Stated::get)
                    .any(|stopped| number(&stopped) == Some(output));
                let ends: Vec<usize> = safety
                    .terminals
                    .iter()
                    .flatten()
                    .filter_map(Stated::get)
                    .filter_map(|terminal| number(&terminal))
                    .collect();
                // Without a switch the sheet has a jumper there.
                if let ([one, other], true) = (ends.as_slice(), stops)
                    && (self.net.is_wired(*one) || self.net.is_wired(*other))
                {
                    loops.push([*one, *other]);
                }
            }
            made.push(Contact {
                one: hot,
                other: output,
                gate: Gate::Board { load, loops },
            });
        }
        self.contacts.append(&mut made);
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
