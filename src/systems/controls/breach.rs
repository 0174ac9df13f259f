//! What must hold over the truth table and does not: safeties that stop nothing, calls of another unit's thermostat,
//! a blower that stops with the safety that needs it, one broken wire that takes a safety out.

use crate::catalog::{Call, CallSide, SafetyType, Stated};
use crate::model::Model;
use crate::physics::switching::{Drawn, Rest};

use super::circuit::{Circuit, Load};
use super::owner::handlers_of;
use super::safety::Safety;
use super::table::Case;

/// A property that does not hold, with the case that shows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Breach {
    /// A load is fed although a safety that has to stop it has tripped.
    Unstopped {
        /// The load.
        load: usize,
        /// The safety.
        safety: usize,
        /// The case.
        case: Case,
    },
    /// A load is fed while the only thermostat that calls belongs to another air handler.
    OtherUnit {
        /// The load.
        load: usize,
        /// The case.
        case: Case,
    },
    /// The blower does not run although it should thaw or cool on while the safety is open.
    BlowerStops {
        /// The air handler.
        unit: String,
        /// The safety.
        safety: usize,
        /// The case.
        case: Case,
    },
    /// Refrigerant leaks and the blower that dilutes it is stopped by another safety.
    LeakUnmoved {
        /// The air handler.
        unit: String,
        /// The leak detector.
        safety: usize,
        /// The case.
        case: Case,
    },
    /// With one conductor broken a load runs on with its safety tripped.
    BrokenWire {
        /// The join that stands for the conductor.
        join: usize,
        /// The load.
        load: usize,
        /// The safety.
        safety: usize,
        /// The case.
        case: Case,
    },
    /// A thermostat calls, no safety has tripped, and what the call is for is not fed.
    Lost {
        /// The load.
        load: usize,
        /// The case.
        case: Case,
    },
    /// Two transformers are joined.
    Joined {
        /// Their numbers.
        sources: [usize; 2],
        /// The case.
        case: Case,
    },
}

/// First and second stage, and what comes with them.
const fn family(call: Call) -> Option<Call> {
    match call {
        Call::Cool | Call::Cool2 => Some(Call::Cool),
        Call::Heat | Call::Heat2 | Call::Emergency => Some(Call::Heat),
        Call::Fan | Call::Dehumidify | Call::Reversing => None,
    }
}

fn share(one: &[String], other: &[String]) -> bool {
    one.iter().any(|name| other.contains(name))
}

/// The table's questions about who belongs to whom, answered once.
struct Owners {
    /// The air handlers of each load; none for a load inside an air handler.
    loads: Vec<Option<Vec<String>>>,
    /// The air handlers of each state's thermostat.
    states: Vec<Vec<String>>,
    /// Whether a call for it has to reach each load.
    needed: Vec<bool>,
}

impl Owners {
    fn of(circuit: &Circuit<'_>, model: &Model) -> Self {
        let of_load = |load: &Load| {
            let unit = circuit.net.at(load.at)?.unit()?;
            let outside = !model.air_handlers.contains_key(unit);
            outside.then(|| handlers_of(model, unit))
        };
        Self {
            loads: circuit.loads.iter().map(of_load).collect(),
            needed: circuit
                .loads
                .iter()
                .map(|load| circuit.is_needed(load, model))
                .collect(),
            states: circuit
                .states
                .iter()
                .map(|state| {
                    let name = state.thermostat.as_ref();
                    name.map_or_else(Vec::new, |name| handlers_of(model, name))
                })
                .collect(),
        }
    }

    /// Whether every thermostat that calls belongs to no other units than `units`.
    fn only(&self, case: &Case, units: &[String]) -> bool {
        case.calls.iter().all(|n| {
            self.states
                .get(*n)
                .is_some_and(|of| of.iter().all(|unit| units.contains(unit)))
        })
    }
}

impl Circuit<'_> {
    /// Whether a call that its thermostat can give has to reach a load, as the job stands.
    fn is_needed(&self, load: &Load, model: &Model) -> bool {
        let (Some(point), Some(call)) = (self.net.at(load.at), load.wanted()) else {
            return false;
        };
        let unit = point.unit().unwrap_or("");
        let touched = self
            .net
            .points()
            .any(|(n, other)| other.unit() == Some(unit) && self.net.is_wired(n));
        let serve = |kinds: &[&str]| {
            let mut all = model.equipment.values();
            all.any(|one| {
                kinds.contains(&one.kind)
                    && (model.air_handlers.len() == 1
                        || handlers_of(model, &one.name).iter().any(|of| of == unit))
            })
        };
        match (point.kind(), call) {
            ("outdoor-unit" | "chiller", Call::Cool) => true,
            ("outdoor-unit", Call::Reversing) => self
                .states
                .iter()
                .any(|state| state.calls.contains(&Call::Reversing)),
            ("air-handler", Call::Cool) => serve(&["outdoor-unit", "chiller"]),
            ("air-handler", Call::Heat) => serve(&["boiler", "water-coil"]),
            ("boiler", Call::Heat) => {
                touched || model.equipment.values().any(|one| one.kind == "water-coil")
            }
            ("air-handler", Call::Fan) => touched,
            ("relay", _) => true,
            _ => false,
        }
    }

    /// Whether `safety` has to stop `load` in `case`.
    fn must_stop(&self, safety: &Safety, load: usize, case: &Case, owners: &Owners) -> bool {
        let (Some(one), Some(Some(of))) = (self.loads.get(load), owners.loads.get(load)) else {
            return false;
        };
        let Some(call) = one.wanted().and_then(family) else {
            return false;
        };
        let stopped = safety
            .stopped
            .iter()
            .any(|stop| family(*stop) == Some(call));
        // What several units share may run for another one.
        let alone =
            of.iter().all(|unit| safety.units.contains(unit)) || owners.only(case, &safety.units);
        let cools = case
            .calls
            .iter()
            .filter_map(|n| self.states.get(*n))
            .all(|state| state.cools || !state.calls.contains(&Call::Cool));
        stopped && share(of, &safety.units) && alone && (call != Call::Cool || cools)
    }

    /// Whether the blower of `unit` runs in a case; none when the unit has no terminal that runs it.
    pub fn blower_runs(&self, model: &Model, unit: &str, case: &Case, rest: &Rest) -> Option<bool> {
        let sheet = &model.air_handlers.get(unit)?.sheet;
        let named: Vec<String> = sheet
            .blower_on
            .iter()
            .flatten()
            .filter_map(Stated::get)
            .collect();
        let runs_it = |load: &Load| {
            self.net.at(load.at).is_some_and(|point| {
                point.unit() == Some(unit)
                    && if sheet.blower_on.is_some() {
                        named
                            .iter()
                            .any(|name| point.name == format!("{unit}.{name}"))
                    } else {
                        point.call() == Some((CallSide::In, Call::Fan))
                    }
            })
        };
        let mut known = false;
        let mut on = false;
        for (n, load) in self
            .loads
            .iter()
            .enumerate()
            .filter(|(_, load)| runs_it(load))
        {
            known |= load.call.is_some();
            on |= rest.fed.get(n).copied().unwrap_or(false);
        }
        for (n, safety) in self.safeties.iter().enumerate() {
            if !safety.units.iter().any(|name| name == unit) {
                continue;
            }
            let open = match safety.loop_ends {
                Some([one, other]) => {
                    (self.net.is_wired(one) || self.net.is_wired(other))
                        && !self.drawn.meet(rest, one, other)
                }
                None => safety.leads.is_none() && case.tripped.contains(&n),
            };
            if open && safety.watches == Some(SafetyType::Leak) {
                on = true;
            } else if open && safety.blower_runs == Some(false) {
                return known.then_some(false);
            }
        }
        known.then_some(on)
    }

    /// The states alone, each as a case.
    fn singles(&self) -> impl Iterator<Item = Case> {
        (0..self.states.len()).map(|n| Case {
            calls: if n == 0 { Vec::new() } else { vec![n] },
            ..Case::default()
        })
    }

    fn unstopped(&self, drawn: &Drawn, case: &Case, owners: &Owners) -> Option<(usize, usize)> {
        if case.tripped.is_empty() {
            return None;
        }
        let rest = self.rest_of(drawn, case);
        let fed = |load: &usize| rest.steady && rest.fed.get(*load) == Some(&true);
        (0..self.loads.len()).filter(fed).find_map(|load| {
            let safety = case.tripped.iter().copied().find(|n| {
                self.safeties
                    .get(*n)
                    .is_some_and(|safety| self.must_stop(safety, load, case, owners))
            })?;
            Some((load, safety))
        })
    }

    /// Everything that does not hold, each load with each safety once, with the plainest case that shows it.
    pub fn breaches(&self, model: &Model) -> Vec<Breach> {
        let owners = Owners::of(self, model);
        let mut out: Vec<Breach> = Vec::new();
        let (calls, trips) = (self.call_sets(), self.trip_sets());
        for tripped in &trips {
            for calls in &calls {
                let case = Case {
                    calls: calls.clone(),
                    tripped: tripped.clone(),
                    failed: None,
                };
                let rest = self.rest_of(&self.drawn, &case);
                self.judge(&case, &rest, &owners, model, &mut out);
            }
        }
        self.broken_wires(&owners, &mut out);
        out
    }

    fn judge(
        &self,
        case: &Case,
        rest: &Rest,
        owners: &Owners,
        model: &Model,
        out: &mut Vec<Breach>,
    ) {
        for (load, fed) in rest.fed.iter().enumerate() {
            if !*fed || !rest.steady {
                continue;
            }
            for safety in &case.tripped {
                let told = out.iter().any(|breach| {
                    matches!(breach, Breach::Unstopped { load: l, safety: s, .. } if *l == load && s == safety)
                });
                let stops = self
                    .safeties
                    .get(*safety)
                    .is_some_and(|safety| self.must_stop(safety, load, case, owners));
                if stops && !told {
                    out.push(Breach::Unstopped {
                        load,
                        safety: *safety,
                        case: case.clone(),
                    });
                }
            }
            if case.tripped.is_empty()
                && let ([state], Some(Some(of))) = (case.calls.as_slice(), owners.loads.get(load))
                && let Some(caller) = owners.states.get(*state)
                && self
                    .loads
                    .get(load)
                    .is_some_and(|load| load.wanted().is_some())
                && !share(of, caller)
                && !out
                    .iter()
                    .any(|b| matches!(b, Breach::OtherUnit { load: l, .. } if *l == load))
            {
                out.push(Breach::OtherUnit {
                    load,
                    case: case.clone(),
                });
            }
        }
        self.judge_calls(case, rest, owners, out);
        self.judge_sources(case, rest, out);
        self.judge_blowers(case, rest, owners, model, out);
    }

    fn judge_calls(&self, case: &Case, rest: &Rest, owners: &Owners, out: &mut Vec<Breach>) {
        let [state] = case.calls.as_slice() else {
            return;
        };
        let (Some(calling), Some(caller)) = (self.states.get(*state), owners.states.get(*state))
        else {
            return;
        };
        // Where a transformer is shorted or a relay drops itself out, that is what is wrong.
        if !case.tripped.is_empty() || !rest.steady || rest.shorted.contains(&true) {
            return;
        }
        for (n, load) in self.loads.iter().enumerate() {
            let mine = match (owners.loads.get(n), self.net.at(load.at)) {
                (Some(Some(of)), _) => share(of, caller),
                (_, Some(point)) => point
                    .unit()
                    .is_some_and(|unit| caller.iter().any(|one| one == unit)),
                _ => false,
            };
            let called = load
                .wanted()
                .is_some_and(|call| calling.calls.contains(&call));
            let fed = rest.fed.get(n) == Some(&true);
            let told = out
                .iter()
                .any(|b| matches!(b, Breach::Lost { load, .. } if *load == n));
            if mine && called && !fed && !told && owners.needed.get(n) == Some(&true) {
                out.push(Breach::Lost {
                    load: n,
                    case: case.clone(),
                });
            }
        }
    }

    fn judge_sources(&self, case: &Case, rest: &Rest, out: &mut Vec<Breach>) {
        for (n, one) in self.sources.iter().enumerate() {
            for (m, other) in self.sources.iter().enumerate().skip(n + 1) {
                let joined = [one.hot, one.cold].iter().any(|a| {
                    [other.hot, other.cold]
                        .iter()
                        .any(|b| self.drawn.meet(rest, *a, *b))
                });
                let told = out
                    .iter()
                    .any(|b| matches!(b, Breach::Joined { sources, .. } if *sources == [n, m]));
                if joined && !told {
                    out.push(Breach::Joined {
                        sources: [n, m],
                        case: case.clone(),
                    });
                }
            }
        }
    }

    fn judge_blowers(
        &self,
        case: &Case,
        rest: &Rest,
        owners: &Owners,
        model: &Model,
        out: &mut Vec<Breach>,
    ) {
        for unit in model.air_handlers.keys() {
            let of_unit = |n: &&usize| {
                self.safeties
                    .get(**n)
                    .is_some_and(|safety| safety.is_built_in() && safety.units.contains(unit))
            };
            let leak =
                case.tripped.iter().filter(of_unit).find(|n| {
                    self.safeties.get(**n).and_then(|s| s.watches) == Some(SafetyType::Leak)
                });
            let frozen = case.tripped.iter().filter(of_unit).find(|n| {
                case.tripped.len() == 1
                    && self.safeties.get(**n).and_then(|s| s.watches) == Some(SafetyType::Freeze)
            });
            let cooled = case.calls.len() == 1
                && case.calls.iter().any(|n| {
                    self.states.get(*n).is_some_and(|state| state.cools)
                        && owners.states.get(*n).is_some_and(|of| of.contains(unit))
                });
            if leak.is_none() && (frozen.is_none() || !cooled) {
                continue;
            }
            if self.blower_runs(model, unit, case, rest) != Some(false) {
                continue;
            }
            let breach = match (leak, frozen) {
                (Some(safety), _) => Breach::LeakUnmoved {
                    unit: unit.clone(),
                    safety: *safety,
                    case: case.clone(),
                },
                (None, Some(safety)) => Breach::BlowerStops {
                    unit: unit.clone(),
                    safety: *safety,
                    case: case.clone(),
                },
                (None, None) => continue,
            };
            let told = out.iter().any(|other| match (other, &breach) {
                (Breach::LeakUnmoved { unit: a, .. }, Breach::LeakUnmoved { unit: b, .. })
                | (Breach::BlowerStops { unit: a, .. }, Breach::BlowerStops { unit: b, .. }) => {
                    a == b
                }
                _ => false,
            });
            if !told {
                out.push(breach);
            }
        }
    }

    /// Each conductor broken in turn, each safety tripped alone: what holds with all wires whole has to hold then.
    fn broken_wires(&self, owners: &Owners, out: &mut Vec<Breach>) {
        let alone: Vec<Case> = self
            .trip_sets()
            .into_iter()
            .filter(|tripped| tripped.len() == 1)
            .flat_map(|tripped| {
                self.singles().map(move |case| Case {
                    tripped: tripped.clone(),
                    ..case
                })
            })
            .filter(|case| !case.calls.is_empty())
            .filter(|case| self.unstopped(&self.drawn, case, owners).is_none())
            .collect();
        let mut done: Vec<usize> = Vec::new();
        for (n, join) in self.net.joins().iter().enumerate() {
            let wire = self.net.wire_side(join);
            if join.words.is_none() || done.contains(&wire) {
                continue;
            }
            done.push(wire);
            let drawn = self.broken(n);
            let found = alone
                .iter()
                .find_map(|case| Some((case, self.unstopped(&drawn, case, owners)?)));
            if let Some((case, (load, safety))) = found {
                out.push(Breach::BrokenWire {
                    join: n,
                    load,
                    safety,
                    case: case.clone(),
                });
            }
        }
    }
}
