//! What is wrong with a call by what runs, and the one landing that would mend it.

use crate::catalog::{Call, CallSide, Role};

use super::circuit::{Circuit, Gate, Load};
use super::drive::Driver;
use super::netlist::{Place, Point};
use super::running::{Move, Running};
use super::state::{State, serves};

/// What is wrong with a terminal that takes a call.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Wrong {
    /// It is called while no thermostat calls.
    AtRest,
    /// It meets a terminal of another transformer's circuit.
    Meets(usize),
    /// It is not called although its call is up and reaches its way.
    NotClosed,
    /// It is called by a call that it does not take.
    Other(Call),
}

/// A terminal at fault.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The terminal.
    pub at: usize,
    /// The call that it takes.
    pub call: Call,
    /// What is wrong with it.
    pub wrong: Wrong,
    /// The state that shows it.
    pub state: State,
}

/// A conductor's end that belongs on another terminal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mend {
    /// Where it lands now.
    pub from: usize,
    /// Where it belongs.
    pub to: usize,
    /// The words of the job that name where it lands now.
    pub words: crate::source::Span,
    moved: Move,
}

/// One terminal over all states.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct Verdict {
    at_rest: bool,
    served: bool,
    meets: Option<(usize, usize)>,
    other: Option<(usize, Call)>,
}

impl Circuit<'_> {
    fn runs(&self, moved: Option<Move>) -> Vec<Running> {
        self.run_all(&self.states, moved)
    }

    /// A terminal of another circuit that conducts to one of the same unit's terminals.
    fn foreign(&self, load: &Load, running: &Running) -> Option<usize> {
        let (_, own) = *self.apart.iter().find(|(n, _)| *n == load.at)?;
        let mine = || self.apart.iter().filter(|(_, number)| *number == own);
        self.net
            .points()
            .map(|(n, _)| n)
            .filter(|n| self.belongs(*n).is_some_and(|other| other != own))
            .filter(|n| mine().any(|(end, _)| running.meet(*end, *n)))
            // An output shows what is called, else the nearest where the two circuits meet.
            .min_by_key(|n| {
                let call = self.net.at(*n).and_then(Point::call);
                let output = matches!(call, Some((CallSide::Output, _)));
                let steps = mine()
                    .filter_map(|(end, _)| self.net.path(*end, *n))
                    .map(|path| path.len())
                    .min();
                (!(output && steps.is_some()), steps.unwrap_or(usize::MAX))
            })
    }

    fn verdict(&self, number: usize, load: &Load, call: Call, runs: &[Running]) -> Verdict {
        let mut verdict = Verdict::default();
        for (n, (state, running)) in self.states.iter().zip(runs).enumerate() {
            let fed = running.feeds(number);
            verdict.at_rest |= fed && state.calls.is_empty();
            verdict.served |= fed && state.serves(call);
            if verdict.meets.is_none() {
                verdict.meets = self.foreign(load, running).map(|point| (n, point));
            }
            if fed && !state.serves(call) && verdict.other.is_none() {
                verdict.other = state.calls.first().map(|carried| (n, *carried));
            }
        }
        verdict
    }

    fn verdicts(&self, moved: Option<Move>) -> Vec<Verdict> {
        let runs = self.runs(moved);
        self.callers()
            .map(|(number, load, call)| self.verdict(number, load, call, &runs))
            .collect()
    }

    /// The first state in which what drives `load` by its conductors is live.
    fn expected(&self, load: &Load, call: Call, runs: &[Running]) -> Option<&State> {
        let drives = self.net.drives(load.at);
        self.states
            .iter()
            .zip(runs)
            .find(|(state, running)| {
                state.serves(call)
                    && drives.iter().any(|drive| {
                        let carried = drive.call.filter(|carried| serves(*carried, call));
                        let (Some(carried), Some(from)) = (carried, drive.path.last()) else {
                            return false;
                        };
                        let unit = self.net.at(*from).and_then(|from| from.unit());
                        match drive.driver {
                            Driver::Output => self.callers().any(|(n, input, taken)| {
                                taken == carried
                                    && running.feeds(n)
                                    && self.net.at(input.at).and_then(|at| at.unit()) == unit
                            }),
                            Driver::Thermostat => {
                                unit.is_some_and(|unit| state.raises(unit, carried))
                                    && self.sources.iter().any(|source| {
                                        running.meet(*from, source.hot)
                                            || running.meet(*from, source.cold)
                                    })
                            }
                            Driver::Power => false,
                        }
                    })
            })
            .map(|(state, _)| state)
    }

    /// Terminals at fault, each once: the gravest first.
    pub fn faults(&self) -> Vec<Fault> {
        let runs = self.runs(None);
        let mut out = Vec::new();
        for (number, load, call) in self.callers() {
            let verdict = self.verdict(number, load, call, &runs);
            let state = |n: usize| self.states.get(n);
            let found = if verdict.at_rest {
                state(0).map(|state| (Wrong::AtRest, state))
            } else if let Some((n, point)) = verdict.meets {
                state(n).map(|state| (Wrong::Meets(point), state))
            } else if let Some((n, carried)) = verdict.other {
                state(n).map(|state| (Wrong::Other(carried), state))
            } else if verdict.served {
                None
            } else {
                self.expected(load, call, &runs)
                    .map(|state| (Wrong::NotClosed, state))
            };
            if let Some((wrong, state)) = found {
                out.push(Fault {
                    at: load.at,
                    call,
                    wrong,
                    state: state.clone(),
                });
            }
        }
        out
    }

    /// Points on the way of a call to `at` from the thermostat on: nets, relays with their coils and contacts, outputs
    /// with their inputs and safeties.
    pub fn way(&self, at: usize) -> Vec<usize> {
        let is_rail = |net: usize| {
            self.net
                .members(net)
                .any(|(_, point)| matches!(point.role(), Some(Role::Power | Role::Common)))
        };
        let is_conductor = |n: usize| {
            self.net
                .at(n)
                .is_some_and(|point| matches!(point.place, Place::Conductor { .. }))
        };
        let own = self.apart.iter().find(|(n, _)| *n == at);
        let mut out: Vec<usize> = Vec::new();
        let mut waiting: Vec<usize> = self
            .apart
            .iter()
            .filter(|(_, number)| own.is_some_and(|(_, own)| own == number))
            .map(|(n, _)| *n)
            .chain([at])
            .collect();
        while let Some(point) = waiting.pop() {
            if out.contains(&point) || point >= self.net.points().count() {
                continue;
            }
            out.push(point);
            let net = self.net.net(point);
            if !is_rail(net) {
                waiting.extend(self.net.members(net).map(|(n, _)| n));
            } else if !is_conductor(point) {
                // A rail goes everywhere: of it only the wire that ends here lies on the way.
                waiting.extend(
                    self.net
                        .joins_of(point)
                        .map(|join| self.net.wire_side(join))
                        .filter(|n| is_conductor(*n)),
                );
            }
            for load in self.loads.iter().filter(|load| load.at == point) {
                waiting.push(load.back);
            }
            for contact in &self.contacts {
                let passes = match &contact.gate {
                    Gate::Board { load, loops, .. } if contact.other == point => {
                        waiting.extend(loops.iter().flatten());
                        self.loads.get(*load).map(|load| load.at)
                    }
                    Gate::Call { .. } if contact.other == point => Some(contact.one),
                    _ => None,
                };
                waiting.extend(passes);
            }
            for relay in &self.net.relays {
                let all = || {
                    let contacts = relay.common.iter().chain(&relay.switched);
                    relay.coil.iter().chain(contacts).copied()
                };
                if all().any(|n| n == point) {
                    waiting.extend(all());
                }
            }
        }
        out
    }

    /// The contact that feeds a terminal at a call that is not its own.
    pub fn contact_of(&self, fault: &Fault) -> Option<usize> {
        let running = self.run(&fault.state, None);
        let net = self.net.net(fault.at);
        self.contacts
            .iter()
            // A contact that leads nowhere feeds nothing.
            .filter(|contact| self.net.is_wired(contact.one) && self.net.is_wired(contact.other))
            .filter(|contact| match &contact.gate {
                Gate::Coil { relay, rests_open } => {
                    let coil = self
                        .loads
                        .iter()
                        .position(|load| load.relay == Some(*relay));
                    coil.is_some_and(|coil| running.feeds(coil)) == *rests_open
                }
                _ => false,
            })
            .find_map(|contact| {
                [contact.one, contact.other]
                    .into_iter()
                    .find(|n| self.net.net(*n) == net && self.net.is_wired(*n))
            })
    }

    /// The one landing on the way to `fault` that, put on another terminal of the same relay or unit, mends it and
    /// harms no other call.
    pub fn mend(&self, fault: &Fault) -> Option<Mend> {
        let before = self.verdicts(None);
        let place = self
            .callers()
            .position(|(_, load, _)| load.at == fault.at)?;
        let way = self.way(fault.at);
        let unit = |n: usize| self.net.at(n).and_then(|point| point.unit());
        let mut options: Vec<(bool, Mend)> = Vec::new();
        for (n, join) in self.net.joins().iter().enumerate() {
            let wire = self.net.wire_side(join);
            let from = if wire == join.one {
                join.other
            } else {
                join.one
            };
            let kind = self.net.at(from).map_or("", |point| point.kind());
            let near = way.contains(&from) || way.contains(&wire);
            let movable = unit(from).is_some() && unit(from) == unit(fault.at)
                || near && matches!(kind, "relay" | "air-handler");
            let (Some(words), true) = (join.words, movable) else {
                continue;
            };
            // On an air handler only its outputs and its common belong to another unit's call.
            let fits = |to: usize| {
                let role = self.net.at(to).and_then(Point::role);
                kind != "air-handler"
                    || unit(from) == unit(fault.at)
                    || role == Some(Role::Common)
                    || matches!(
                        role.and_then(Role::call),
                        Some((CallSide::Output, output)) if serves(output, fault.call)
                    )
            };
            for (to, point) in self.net.points() {
                if to != from && point.unit().is_some() && point.unit() == unit(from) && fits(to) {
                    let mend = Mend {
                        from,
                        to,
                        words,
                        moved: (n, to),
                    };
                    options.push((self.net.is_wired(to), mend));
                }
            }
        }
        // A terminal that nothing sits on yet comes first.
        options.sort_by_key(|(wired, _)| *wired);
        options.into_iter().map(|(_, mend)| mend).find(|mend| {
            let after = self.verdicts(Some(mend.moved));
            let sound = after.get(place).is_some_and(|verdict| {
                verdict.served
                    && !verdict.at_rest
                    && verdict.meets.is_none()
                    && verdict.other.is_none()
            });
            sound
                && before
                    .iter()
                    .zip(&after)
                    .enumerate()
                    .all(|(n, (before, after))| {
                        // The terminal that the wire leaves stood in for the right one.
                        let left = self
                            .callers()
                            .nth(n)
                            .is_some_and(|(_, load, _)| load.at == mend.from);
                        (!after.at_rest || before.at_rest)
                            && (after.meets.is_none() || before.meets.is_some())
                            && (after.other.is_none() || before.other.is_some())
                            && (after.served || !before.served || left)
                    })
        })
    }

    /// Whether `fault` is gone once `mend` is made.
    pub fn is_mended(&self, fault: &Fault, mend: &Mend) -> bool {
        let after = self.verdicts(Some(mend.moved));
        let place = self.callers().position(|(_, load, _)| load.at == fault.at);
        place
            .and_then(|place| after.get(place))
            .is_some_and(|v| v.served && !v.at_rest && v.meets.is_none() && v.other.is_none())
    }
}
