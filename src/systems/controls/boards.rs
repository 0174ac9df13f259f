//! What each relay, thermostat, unit and safety puts into the wiring: its contacts, loads and transformer.

use crate::catalog::{Call, CallSide, Catalog, Role};
use crate::model::Model;

use super::circuit::{Circuit, Contact, Gate, Load, Mover, Source, needs_common};
use super::safety::Safety;

impl Circuit<'_> {
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

    pub(super) fn relays(&mut self, model: &Model) {
        for (n, relay) in self.net.relays.iter().enumerate() {
            let starts = model.water.circulators.values().any(|circulator| {
                let by = circulator.relay.as_ref();
                by.is_some_and(|by| by.value == relay.name)
            });
            if let [one, other] = relay.coil.as_slice() {
                self.loads.push(Load {
                    at: *one,
                    back: *other,
                    relay: Some(n),
                    call: None,
                    starts: starts.then_some(Call::Heat),
                });
            }
            let mut mover = Mover {
                name: relay.name.clone(),
                contacts: Vec::new(),
            };
            for (list, rests_open) in [(&relay.open, true), (&relay.closed, false)] {
                for (pole, contact) in list.iter().enumerate() {
                    let common = relay.common.get(pole).or(relay.common.first());
                    if let Some(common) = common {
                        mover.contacts.push((self.contacts.len(), rests_open));
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
            self.movers.push(mover);
        }
    }

    pub(super) fn thermostats(&mut self, model: &Model, catalog: &Catalog) {
        for thermostat in model.thermostats.values() {
            // Which of several inlets feeds a call no role says.
            let inlets = self.with(&thermostat.name, Role::PowerIn);
            let [inlet] = inlets.as_slice() else { continue };
            let common = self.with(&thermostat.name, Role::Common);
            let fed_by = match common.first() {
                Some(common) if needs_common(model, catalog, &thermostat.name) => {
                    self.loads.push(Load {
                        at: *inlet,
                        back: *common,
                        relay: None,
                        call: None,
                        starts: None,
                    });
                    Some(self.loads.len() - 1)
                }
                _ => None,
            };
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
                            fed_by,
                        },
                    });
                }
            }
        }
    }

    /// A unit that takes its calls against its common; it is a source where it has a hot side as well.
    pub(super) fn fed_unit(&mut self, unit: &str) {
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
                starts: None,
            });
        }
    }

    /// A unit whose call closes between its own terminals, on a transformer of its own.
    pub(super) fn self_fed(&mut self, unit: &str) {
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
                starts: None,
            });
        }
        self.apart
            .extend(others.into_iter().map(|other| (other, number)));
    }

    /// The outputs of an air handler: each gives what the unit's hot side gives while its call is taken.
    pub(super) fn board(&mut self, model: &Model, unit: &str) {
        if !model.air_handlers.contains_key(unit) {
            return;
        }
        let Some(hot) = self.with(unit, Role::Power).first().copied() else {
            return;
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
            let stopping = |safety: &&Safety| safety.stops.contains(&output);
            let mut loops = Vec::new();
            for safety in self.safeties.iter().filter(stopping) {
                // Without a switch the unit has a jumper there.
                if let Some([one, other]) = safety.loop_ends
                    && (self.net.is_wired(one) || self.net.is_wired(other))
                {
                    loops.push([one, other]);
                }
            }
            let safeties = self
                .safeties
                .iter()
                .enumerate()
                .filter(|(_, safety)| safety.is_built_in() && stopping(safety))
                .map(|(n, _)| n)
                .collect();
            self.movers.push(Mover {
                name: point.name.clone(),
                contacts: vec![(self.contacts.len() + made.len(), true)],
            });
            made.push(Contact {
                one: hot,
                other: output,
                gate: Gate::Board {
                    load,
                    loops,
                    safeties,
                },
            });
        }
        self.contacts.append(&mut made);
    }

    /// Safeties with leads of their own.
    pub(super) fn switches(&mut self) {
        for (n, safety) in self.safeties.iter().enumerate() {
            if let (Some([one, other]), Some(tripped)) = (safety.leads, safety.conducts_tripped) {
                self.contacts.push(Contact {
                    one,
                    other,
                    gate: Gate::Safety { safety: n, tripped },
                });
            }
        }
    }
}
