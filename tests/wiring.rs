//! Single edits of the examples' control wiring, each run by an evaluation of this file's own: what makes the truth
//! table worse has to be reported, what does not has to stay silent.
//!
//! The evaluation here knows the roles of terminals and nothing of the program's circuits: it spreads potentials over
//! conductors and closed contacts, point by point, until nothing moves.

use std::collections::{BTreeMap, BTreeSet};

use bayrun::catalog::{Call, CallSide, Catalog, Feed, Role, SafetyType};
use bayrun::model::{Cable, Model, Wire};
use bayrun::rules::{Job, RULES, Report};
use bayrun::source::{Disk, Spanned};
use bayrun::systems::controls::{Netlist, Wiring};
use bayrun::{Checked, Workshop};
use indexmap::IndexMap;

use crate::support::cases::root;

/// What a contact of the bench follows.
#[derive(Clone, Debug)]
enum Follows {
    /// A thermostat's call, while its own supply stands.
    Call(String, Call, Option<usize>),
    /// A coil, closed when it is fed (or not).
    Coil(usize, bool),
    /// A board: an input fed, pairs of points joined, built-in safeties at rest.
    Board(usize, Vec<(usize, usize)>, Vec<usize>),
    /// A switch with leads: closed while tripped or while at rest.
    Switch(usize, bool),
}

#[derive(Clone, Debug)]
struct Consumer {
    name: String,
    unit: String,
    ends: (usize, usize),
    call: Option<Call>,
    outside: bool,
    /// Volt-amperes that it takes held in at 24 V, where its catalog says so.
    takes: Option<f64>,
}

#[derive(Clone, Debug)]
struct Trips {
    units: Vec<String>,
    cools: bool,
    heats: bool,
    freeze: bool,
}

#[derive(Clone, Debug)]
struct Stat {
    name: String,
    /// Word, calls, whether it cools.
    calls: Vec<(&'static str, Vec<Call>, bool)>,
}

/// A job's wiring on the bench.
struct Bench {
    points: BTreeMap<String, usize>,
    wires: Vec<(usize, usize)>,
    contacts: Vec<(usize, usize, Follows)>,
    consumers: Vec<Consumer>,
    sources: Vec<(usize, usize)>,
    trips: Vec<Trips>,
    stats: Vec<Stat>,
    owners: BTreeMap<String, Vec<String>>,
    /// Terminals of units with a transformer of their own, and of air handlers.
    apart: Vec<usize>,
    live: Vec<usize>,
    /// Thermostats' outputs with their calls, terminals that take calls, hot and common terminals of air handlers.
    outs: Vec<(usize, Call)>,
    takes: Vec<(usize, Call)>,
    hot: Vec<usize>,
    /// Terminals of safeties' loops, terminals that carry current or a call, and contacts that start a circulator.
    loops: Vec<usize>,
    carry: Vec<usize>,
    mains: Vec<usize>,
    /// Consumers that run the blower of each air handler.
    blowers: BTreeMap<String, Vec<usize>>,
}

/// What one case shows.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Shown {
    fed: Vec<bool>,
    shorted: bool,
    steady: bool,
    joined: bool,
    level: Vec<usize>,
}

fn call_of(role: Option<Role>, side: CallSide) -> Option<Call> {
    role.and_then(Role::call)
        .filter(|(own, _)| *own == side)
        .map(|(_, call)| call)
}

/// Whether a terminal carries current or a call.
fn carries(role: Option<Role>) -> bool {
    matches!(
        role,
        Some(Role::Power | Role::PowerIn | Role::Common | Role::Coil)
    ) || role.and_then(Role::call).is_some()
}

fn owners(model: &Model) -> BTreeMap<String, Vec<String>> {
    let handlers: Vec<String> = model.air_handlers.keys().cloned().collect();
    let mut out = BTreeMap::new();
    let names = model.equipment.keys().chain(model.thermostats.keys());
    for name in names {
        let mut of: Vec<String> = Vec::new();
        for drain in model.drains.values() {
            if drain
                .ending
                .as_ref()
                .is_some_and(|end| end.to.value == *name)
            {
                of.push(drain.unit.clone());
            }
        }
        for entry in model.entries.iter().filter(|e| e.word.word == "line-set") {
            let end = |word| entry.text(word).known().map(|end| end.value);
            if let (Some(from), Some(to)) = (end("from"), end("to"))
                && of.is_empty()
                && (from == *name || to == *name)
            {
                of = [from, to]
                    .into_iter()
                    .filter(|e| handlers.contains(e))
                    .collect();
            }
        }
        // Rings of cables around the unit, until one holds an air handler.
        let mut ring: BTreeSet<String> = BTreeSet::from([name.clone()]);
        while of.is_empty() {
            let mut next = ring.clone();
            for cable in model.cables.values() {
                let (from, to) = (&cable.from.value, &cable.to.value);
                if ring.contains(from) {
                    next.insert(to.clone());
                }
                if ring.contains(to) {
                    next.insert(from.clone());
                }
            }
            of = next
                .iter()
                .filter(|e| handlers.contains(e))
                .cloned()
                .collect();
            if next.len() == ring.len() {
                break;
            }
            ring = next;
        }
        if of.is_empty() {
            of = handlers.clone();
        }
        out.insert(name.clone(), of);
    }
    out
}

impl Bench {
    fn point(&mut self, name: &str) -> usize {
        let next = self.points.len();
        *self.points.entry(name.to_owned()).or_insert(next)
    }

    fn of(model: &Model, catalog: &Catalog) -> Self {
        let mut b = Self {
            points: BTreeMap::new(),
            wires: Vec::new(),
            contacts: Vec::new(),
            consumers: Vec::new(),
            sources: Vec::new(),
            trips: Vec::new(),
            stats: Vec::new(),
            owners: owners(model),
            apart: Vec::new(),
            live: Vec::new(),
            outs: Vec::new(),
            takes: Vec::new(),
            hot: Vec::new(),
            loops: Vec::new(),
            carry: Vec::new(),
            mains: Vec::new(),
            blowers: BTreeMap::new(),
        };
        for cable in model.cables.values() {
            for wire in &cable.wires {
                let (from, to) = (b.point(&wire.from.value), b.point(&wire.to.value));
                b.wires.push((from, to));
            }
        }
        let wired: BTreeSet<usize> = b.wires.iter().flat_map(|(a, c)| [*a, *c]).collect();
        for unit in model.air_handlers.values() {
            let at = |b: &mut Self, name: &str| b.point(&format!("{}.{name}", unit.name));
            let mut hot = None;
            let mut cold = None;
            for (name, terminal) in unit.sheet.control.iter() {
                let end = at(&mut b, name);
                b.live.push(end);
                match terminal.role.get() {
                    Some(Role::Switch) => b.loops.push(end),
                    role if carries(role) => b.carry.push(end),
                    _ => {}
                }
                b.takes
                    .extend(call_of(terminal.role.get(), CallSide::In).map(|call| (end, call)));
            }
            for (name, terminal) in unit.sheet.control.iter() {
                match terminal.role.get() {
                    Some(Role::Power) => hot = Some(at(&mut b, name)),
                    Some(Role::Common) => cold = Some(at(&mut b, name)),
                    _ => {}
                }
            }
            let (hot, cold) = (hot.unwrap(), cold.unwrap());
            b.sources.push((hot, cold));
            b.hot.push(hot);
            let mut inputs: BTreeMap<String, usize> = BTreeMap::new();
            for (name, terminal) in unit.sheet.control.iter() {
                let role = terminal.role.get();
                if let Some(call) = call_of(role, CallSide::In) {
                    let end = at(&mut b, name);
                    inputs.insert(name.clone(), b.consumers.len());
                    b.consumers.push(Consumer {
                        name: format!("{}.{name}", unit.name),
                        unit: unit.name.clone(),
                        ends: (end, cold),
                        call: Some(call),
                        outside: false,
                        takes: terminal
                            .load
                            .as_ref()
                            .and_then(|load| Some(load.get()?.value())),
                    });
                }
            }
            let mut safeties: Vec<(Vec<String>, Option<(usize, usize)>, usize)> = Vec::new();
            for (_, safety) in unit.sheet.safeties.iter() {
                let stops: Vec<String> = safety.stops.iter().filter_map(|s| s.get()).collect();
                let pair: Option<Vec<String>> = safety
                    .terminals
                    .as_ref()
                    .map(|list| list.iter().filter_map(|t| t.get()).collect());
                let ends = pair.map(|pair| (at(&mut b, &pair[0]), at(&mut b, &pair[1])));
                if ends.is_none() {
                    let role =
                        |name: &String| unit.sheet.control.get(name).and_then(|t| t.role.get());
                    let call = |name| call_of(role(name), CallSide::Output);
                    b.trips.push(Trips {
                        units: vec![unit.name.clone()],
                        cools: stops.iter().any(|s| call(s) == Some(Call::Cool)),
                        heats: stops.iter().any(|s| call(s) == Some(Call::Heat)),
                        freeze: safety.type_of.get() == Some(SafetyType::Freeze),
                    });
                }
                safeties.push((stops, ends, b.trips.len().saturating_sub(1)));
            }
            for (name, terminal) in unit.sheet.control.iter() {
                let Some(call) = call_of(terminal.role.get(), CallSide::Output) else {
                    continue;
                };
                let input = inputs
                    .values()
                    .copied()
                    .find(|n| b.consumers[*n].call == Some(call))
                    .unwrap();
                let mine = safeties.iter().filter(|(stops, ..)| stops.contains(name));
                let loops = mine
                    .clone()
                    .filter_map(|(_, ends, _)| *ends)
                    .filter(|(a, c)| wired.contains(a) || wired.contains(c))
                    .collect();
                let built = mine
                    .filter(|(_, ends, _)| ends.is_none())
                    .map(|(_, _, n)| *n)
                    .collect();
                let end = at(&mut b, name);
                b.contacts
                    .push((hot, end, Follows::Board(input, loops, built)));
            }
            let on: Vec<String> = unit
                .sheet
                .blower_on
                .iter()
                .flatten()
                .filter_map(|name| name.get())
                .collect();
            let runs = on.iter().map(|name| inputs[name]).collect();
            b.blowers.insert(unit.name.clone(), runs);
        }
        for thermostat in model.thermostats.values() {
            let sheet = &catalog.thermostats[&thermostat.model.as_ref().unwrap().value];
            let mut inlet = 0;
            let mut common = None;
            let mut outs = Vec::new();
            for (name, terminal) in sheet.control.iter() {
                let end = b.point(&format!("{}.{name}", thermostat.name));
                if carries(terminal.role.get()) {
                    b.carry.push(end);
                }
                match terminal.role.get() {
                    Some(Role::PowerIn) => inlet = end,
                    Some(Role::Common) => common = Some(end),
                    role => outs.extend(call_of(role, CallSide::Out).map(|call| (end, call))),
                }
            }
            // The examples' thermostats are fed through common wherever they can be.
            let supply = (sheet.fed_by.get() != Some(Feed::Battery)).then(|| {
                b.consumers.push(Consumer {
                    name: thermostat.name.clone(),
                    unit: thermostat.name.clone(),
                    ends: (inlet, common.unwrap()),
                    call: None,
                    outside: true,
                    takes: sheet.load.get().map(|load| load.value()),
                });
                b.consumers.len() - 1
            });
            for (end, call) in &outs {
                let follows = Follows::Call(thermostat.name.clone(), *call, supply);
                b.contacts.push((inlet, *end, follows));
            }
            b.outs.extend(&outs);
            let gives = |call: Call| outs.iter().any(|(_, own)| *own == call);
            let all: [(&'static str, Call, &[Call], bool); 5] = [
                ("fan", Call::Fan, &[Call::Fan], false),
                ("cool", Call::Cool, &[Call::Cool, Call::Fan], true),
                (
                    "cool 2",
                    Call::Cool2,
                    &[Call::Cool, Call::Cool2, Call::Fan],
                    true,
                ),
                ("heat", Call::Heat, &[Call::Heat], false),
                ("heat 2", Call::Heat2, &[Call::Heat, Call::Heat2], false),
            ];
            b.stats.push(Stat {
                name: thermostat.name.clone(),
                calls: all
                    .into_iter()
                    .filter(|(_, needs, ..)| gives(*needs))
                    .map(|(word, _, calls, cools)| (word, calls.to_vec(), cools))
                    .collect(),
            });
        }
        for unit in model.equipment.values() {
            let Some(terminals) = &unit.terminals else {
                continue;
            };
            let named: Vec<(usize, Option<Role>, String)> = terminals
                .iter()
                .map(|(name, t)| {
                    let full = format!("{}.{name}", unit.name);
                    (b.point(&full), t.role.get(), full)
                })
                .collect();
            let with = |role: Role| -> Vec<usize> {
                named
                    .iter()
                    .filter(|(_, own, _)| *own == Some(role))
                    .map(|(n, ..)| *n)
                    .collect()
            };
            let carry = named.iter().filter(|(_, role, _)| carries(*role));
            b.carry.extend(carry.map(|(end, ..)| *end));
            let own = |b: &Self| b.points.len();
            match unit.kind {
                "relay" => {
                    let coil = with(Role::Coil);
                    let circulates = model.water.circulators.values().any(|circulator| {
                        circulator
                            .relay
                            .as_ref()
                            .is_some_and(|by| by.value == unit.name)
                    });
                    b.consumers.push(Consumer {
                        name: unit.name.clone(),
                        unit: unit.name.clone(),
                        ends: (coil[0], coil[1]),
                        call: circulates.then_some(Call::Heat),
                        outside: true,
                        takes: catalog.relays[&unit.model.as_ref().unwrap().value]
                            .coil
                            .get()
                            .map(|coil| coil.value()),
                    });
                    if circulates {
                        b.mains.extend(with(Role::ContactCommon));
                        b.mains.extend(with(Role::ContactOpen));
                    }
                    let number = b.consumers.len() - 1;
                    let common = with(Role::ContactCommon)[0];
                    for n in with(Role::ContactOpen) {
                        b.contacts.push((common, n, Follows::Coil(number, true)));
                    }
                    for n in with(Role::ContactClosed) {
                        b.contacts.push((common, n, Follows::Coil(number, false)));
                    }
                }
                "switch" | "pump" => {
                    let leads = with(Role::Switch);
                    let closes = unit.kind == "switch"
                        && catalog.float_switches[&unit.model.as_ref().unwrap().value]
                            .opens_on_rise
                            .get()
                            == Some(false);
                    b.trips.push(Trips {
                        units: b.owners[&unit.name].clone(),
                        cools: true,
                        heats: false,
                        freeze: false,
                    });
                    let number = b.trips.len() - 1;
                    b.contacts
                        .push((leads[0], leads[1], Follows::Switch(number, closes)));
                }
                "boiler" => {
                    // A unit with a transformer of its own: the second terminal is live.
                    let hidden = format!("{} inside", unit.name);
                    assert!(own(&b) > 0);
                    let cold = b.point(&hidden);
                    let hot = with(Role::Switch)[0];
                    b.sources.push((hot, cold));
                    b.apart.extend(named.iter().map(|(end, ..)| *end));
                    for (end, role, name) in &named {
                        if let Some(call) = call_of(*role, CallSide::In) {
                            b.consumers.push(Consumer {
                                name: name.clone(),
                                unit: unit.name.clone(),
                                ends: (*end, cold),
                                call: Some(call),
                                outside: true,
                                takes: None,
                            });
                        }
                    }
                }
                _ => {
                    for (end, role, name) in &named {
                        if let (Some(call), Some(cold)) =
                            (call_of(*role, CallSide::In), with(Role::Common).first())
                        {
                            b.consumers.push(Consumer {
                                name: name.clone(),
                                unit: unit.name.clone(),
                                ends: (*end, *cold),
                                call: Some(call),
                                outside: true,
                                takes: name
                                    .split_once('.')
                                    .and_then(|(_, name)| terminals.get(name))
                                    .and_then(|terminal| terminal.load.as_ref())
                                    .and_then(|load| Some(load.get()?.value())),
                            });
                        }
                    }
                }
            }
        }
        b
    }

    /// Potentials by flooding: each point gets the lowest number among those it conducts to.
    fn flood(&self, closed: &[bool], broken: Option<usize>) -> Vec<usize> {
        let mut level: Vec<usize> = (0..self.points.len()).collect();
        loop {
            let mut moved = false;
            let mut even = |a: usize, c: usize| {
                let low = level[a].min(level[c]);
                moved |= level[a] != low || level[c] != low;
                level[a] = low;
                level[c] = low;
            };
            for (n, (a, c)) in self.wires.iter().enumerate() {
                if broken != Some(n) {
                    even(*a, *c);
                }
            }
            for ((a, c, _), closed) in self.contacts.iter().zip(closed) {
                if *closed {
                    even(*a, *c);
                }
            }
            if !moved {
                return level;
            }
        }
    }

    fn show(&self, calls: &[(usize, usize)], tripped: &[usize], broken: Option<usize>) -> Shown {
        let up = |unit: &str, call: Call| {
            calls.iter().any(|(stat, n)| {
                let stat = &self.stats[*stat];
                stat.name == unit && stat.calls[*n].1.contains(&call)
            })
        };
        let mut fed = vec![false; self.consumers.len()];
        let mut level: Vec<usize> = (0..self.points.len()).collect();
        // Wires conduct from the first moment on; contacts stand as they rest.
        let none = vec![false; self.contacts.len()];
        let mut history: Vec<Vec<bool>> = Vec::new();
        let start = self.flood(&none, broken);
        level.clone_from(&start);
        loop {
            let closed: Vec<bool> = self
                .contacts
                .iter()
                .map(|(_, _, follows)| match follows {
                    Follows::Call(unit, call, supply) => {
                        up(unit, *call) && supply.is_none_or(|n| fed[n])
                    }
                    Follows::Coil(coil, wanted) => fed[*coil] == *wanted,
                    Follows::Board(input, loops, built) => {
                        fed[*input]
                            && loops.iter().all(|(a, c)| level[*a] == level[*c])
                            && built.iter().all(|n| !tripped.contains(n))
                    }
                    Follows::Switch(n, closes) => tripped.contains(n) == *closes,
                })
                .collect();
            let steady = history.last() == Some(&closed);
            if steady || history.contains(&closed) {
                let shorted = self.sources.iter().any(|(h, c)| level[*h] == level[*c]);
                let joined = self.sources.iter().enumerate().any(|(n, (h, c))| {
                    self.sources[n + 1..].iter().any(|(h2, c2)| {
                        [level[*h2], level[*c2]].contains(&level[*h])
                            || [level[*h2], level[*c2]].contains(&level[*c])
                    })
                }) || self
                    .apart
                    .iter()
                    .any(|n| self.live.iter().any(|m| level[*n] == level[*m]));
                return Shown {
                    fed: fed.iter().map(|fed| *fed && steady).collect(),
                    shorted,
                    steady,
                    joined,
                    level,
                };
            }
            level = self.flood(&closed, broken);
            fed = self
                .consumers
                .iter()
                .map(|consumer| {
                    let (a, c) = (level[consumer.ends.0], level[consumer.ends.1]);
                    self.sources.iter().any(|(h, k)| {
                        let (h, k) = (level[*h], level[*k]);
                        h != k && ((a, c) == (h, k) || (a, c) == (k, h))
                    })
                })
                .collect();
            history.push(closed);
        }
    }

    /// Whether consumers lead from a level that touches no source on to two others.
    fn bridges(&self, shown: &Shown) -> bool {
        let at = |end: usize| shown.level[end];
        let sides: BTreeSet<usize> = self
            .sources
            .iter()
            .flat_map(|(h, c)| [at(*h), at(*c)])
            .collect();
        let mut beyond: BTreeMap<usize, usize> = BTreeMap::new();
        self.consumers.iter().any(|one| {
            let (a, c) = (at(one.ends.0), at(one.ends.1));
            [(a, c), (c, a)].into_iter().any(|(here, there)| {
                here != there
                    && !sides.contains(&here)
                    && *beyond.entry(here).or_insert(there) != there
            })
        })
    }

    /// Whether a consumer that is not fed gets all but the whole voltage through others: levels settle by the mean of
    /// their neighbours, over and over, until nothing moves any more.
    fn leaks(&self, shown: &Shown, consumer: usize) -> bool {
        let at = |end: usize| shown.level[end];
        self.sources.iter().any(|(hot, cold)| {
            let mut volts: BTreeMap<usize, f64> =
                BTreeMap::from([(at(*hot), 24.0), (at(*cold), 0.0)]);
            for _ in 0..100 {
                let mut sums: BTreeMap<usize, (f64, f64)> = BTreeMap::new();
                for one in &self.consumers {
                    let Some(takes) = one.takes else { continue };
                    let (a, c) = (at(one.ends.0), at(one.ends.1));
                    for (here, there) in [(a, c), (c, a)] {
                        let sum = sums.entry(here).or_default();
                        if let (Some(volts), true) = (volts.get(&there), here != there) {
                            sum.0 += takes * volts;
                            sum.1 += takes;
                        }
                    }
                }
                for (level, (volt, takes)) in sums {
                    if level != at(*hot) && level != at(*cold) && takes > 0.0 {
                        volts.insert(level, volt / takes);
                    }
                }
            }
            let one = &self.consumers[consumer];
            let ends = (volts.get(&at(one.ends.0)), volts.get(&at(one.ends.1)));
            let across = |(a, c): (&f64, &f64)| (a - c).abs();
            ends.0.zip(ends.1).is_some_and(|ends| across(ends) > 20.5)
        })
    }

    /// Every set of calls, one a thermostat at most.
    fn call_sets(&self) -> Vec<Vec<(usize, usize)>> {
        let mut out = vec![Vec::new()];
        for (n, stat) in self.stats.iter().enumerate() {
            let before = out.clone();
            for call in 0..stat.calls.len() {
                out.extend(before.iter().map(|set: &Vec<(usize, usize)>| {
                    let mut set = set.clone();
                    set.push((n, call));
                    set
                }));
            }
        }
        out
    }

    fn trip_sets(&self) -> Vec<Vec<usize>> {
        (0..1_usize << self.trips.len())
            .map(|bits| {
                (0..self.trips.len())
                    .filter(|n| bits >> n & 1 == 1)
                    .collect()
            })
            .collect()
    }

    fn is_cool(call: Call) -> bool {
        matches!(call, Call::Cool | Call::Cool2)
    }

    fn is_heat(call: Call) -> bool {
        matches!(call, Call::Heat | Call::Heat2)
    }

    fn owner(&self, unit: &str) -> Vec<String> {
        self.owners
            .get(unit)
            .cloned()
            .unwrap_or_else(|| vec![unit.to_owned()])
    }

    /// Whether a tripped safety has to stop a consumer while these calls are up.
    fn must_stop(&self, consumer: &Consumer, trip: &Trips, calls: &[(usize, usize)]) -> bool {
        let Some(call) = consumer.call.filter(|_| consumer.outside) else {
            return false;
        };
        let of = self.owner(&consumer.unit);
        let callers = calls
            .iter()
            .flat_map(|(stat, _)| self.owner(&self.stats[*stat].name));
        let alone = of.iter().all(|unit| trip.units.contains(unit))
            || callers.into_iter().all(|unit| trip.units.contains(&unit));
        (trip.cools && Self::is_cool(call) || trip.heats && Self::is_heat(call))
            && of.iter().any(|unit| trip.units.contains(unit))
            && alone
    }

    /// Whether a consumer may run while these calls are up.
    fn may(&self, consumer: &Consumer, calls: &[(usize, usize)]) -> bool {
        let Some(taken) = consumer.call else {
            return true;
        };
        let of = self.owner(&consumer.unit);
        calls.iter().any(|(stat, n)| {
            let stat = &self.stats[*stat];
            let serves = stat.calls[*n].1.iter().any(|carried| {
                *carried == taken
                    || matches!(
                        (carried, taken),
                        (Call::Cool, Call::Cool2) | (Call::Heat, Call::Heat2) | (_, Call::Fan)
                    )
            });
            serves && self.owner(&stat.name).iter().any(|unit| of.contains(unit))
        })
    }

    /// Faults that show on the drawing without running it: a call wired to nothing that takes it, power on a call, a
    /// load whose two sides are exchanged, anything live on a safety's loop, a control wire on a mains contact.
    fn static_faults(&self) -> Vec<String> {
        let level = self.flood(&vec![false; self.contacts.len()], None);
        let wired: BTreeSet<usize> = self.wires.iter().flat_map(|(a, c)| [*a, *c]).collect();
        let mut out = Vec::new();
        for end in &self.loops {
            if self.carry.iter().any(|n| level[*n] == level[*end]) {
                out.push(format!("loop {end} joined to what carries current"));
            }
        }
        for end in self.mains.iter().filter(|end| wired.contains(end)) {
            out.push(format!("control wire on the mains contact {end}"));
        }
        for (end, call) in &self.outs {
            let reached = self
                .takes
                .iter()
                .any(|(n, taken)| taken == call && level[*n] == level[*end]);
            if wired.contains(end) && !reached {
                out.push(format!("{call:?} wired to nothing that takes it"));
            }
            if self.hot.iter().any(|n| level[*n] == level[*end]) {
                out.push(format!("{call:?} on power"));
            }
        }
        for consumer in self
            .consumers
            .iter()
            .filter(|c| c.outside && c.call.is_some())
        {
            let commons = self.sources.iter().map(|(_, cold)| *cold);
            if commons
                .into_iter()
                .any(|cold| level[cold] == level[consumer.ends.0])
            {
                out.push(format!("{} turned", consumer.name));
            }
        }
        out
    }

    /// What is worse here than on the bench before the edit; empty when nothing is.
    fn worse_than(&self, before: &Self) -> Vec<String> {
        let mut out = Vec::new();
        assert_eq!(self.consumers.len(), before.consumers.len());
        let old: BTreeMap<&str, usize> = before
            .consumers
            .iter()
            .enumerate()
            .map(|(n, c)| (c.name.as_str(), n))
            .collect();
        for calls in self.call_sets() {
            for tripped in self.trip_sets() {
                let (now, then) = (
                    self.show(&calls, &tripped, None),
                    before.show(&calls, &tripped, None),
                );
                if now.shorted && !then.shorted {
                    out.push(format!("short at {calls:?} {tripped:?}"));
                }
                if !now.steady && then.steady {
                    out.push(format!("restless at {calls:?} {tripped:?}"));
                }
                if now.joined && !then.joined {
                    out.push(format!("transformers joined at {calls:?} {tripped:?}"));
                }
                for (n, consumer) in self.consumers.iter().enumerate() {
                    let was = then.fed[old[consumer.name.as_str()]];
                    let what = || format!("{} at {calls:?} {tripped:?}", consumer.name);
                    if tripped.is_empty() && consumer.call.is_some() {
                        if was && !now.fed[n] {
                            out.push(format!("lost: {}", what()));
                        }
                        if !was && now.fed[n] && !self.may(consumer, &calls) {
                            out.push(format!("runs: {}", what()));
                        }
                    }
                    let stopped = tripped
                        .iter()
                        .any(|trip| self.must_stop(consumer, &self.trips[*trip], &calls));
                    if stopped && now.fed[n] && !was {
                        out.push(format!("unstopped: {}", what()));
                    }
                }
                if let ([(stat, n)], [trip]) = (calls.as_slice(), tripped.as_slice())
                    && self.trips[*trip].freeze
                    && self.stats[*stat].calls[*n].2
                {
                    for (unit, by) in &self.blowers {
                        let mine = self.trips[*trip].units.contains(unit)
                            && self.owner(&self.stats[*stat].name).contains(unit);
                        let ran = before.blowers[unit].iter().any(|n| then.fed[*n]);
                        if mine && ran && !by.iter().any(|n| now.fed[*n]) {
                            out.push(format!("no blower: {unit} at {calls:?} {tripped:?}"));
                        }
                    }
                }
            }
        }
        if !out.is_empty() {
            return out;
        }
        let mut seen: BTreeSet<Vec<usize>> = BTreeSet::new();
        for calls in self.call_sets() {
            for tripped in self.trip_sets() {
                let now = self.show(&calls, &tripped, None);
                if !now.steady || !self.bridges(&now) || !seen.insert(now.level.clone()) {
                    continue;
                }
                let then = before.show(&calls, &tripped, None);
                for (n, consumer) in self.consumers.iter().enumerate() {
                    let was = || before.leaks(&then, old[consumer.name.as_str()]);
                    if consumer.takes.is_some() && !now.fed[n] && self.leaks(&now, n) && !was() {
                        out.push(format!(
                            "through others: {} at {calls:?} {tripped:?}",
                            consumer.name
                        ));
                    }
                }
            }
        }
        if !out.is_empty() {
            return out;
        }
        let singles: Vec<_> = self
            .call_sets()
            .into_iter()
            .filter(|c| c.len() == 1)
            .collect();
        for wire in 0..self.wires.len() {
            for calls in &singles {
                for (trip, safety) in self.trips.iter().enumerate() {
                    let now = self.show(calls, &[trip], Some(wire));
                    for (n, consumer) in self.consumers.iter().enumerate() {
                        if now.fed[n] && self.must_stop(consumer, safety, calls) {
                            out.push(format!(
                                "broken wire {wire}: {} {calls:?} {trip}",
                                consumer.name
                            ));
                        }
                    }
                }
            }
        }
        out
    }
}

/// The cables of a job by name.
type Cables = IndexMap<String, Cable>;

/// One edit in words, and the cables with it: thousands of whole models would take gigabytes.
struct Edit {
    words: String,
    cables: Cables,
}

impl Edit {
    /// Its words, and the job with it.
    fn of(self, model: &Model) -> (String, Model) {
        let mut changed = model.clone();
        changed.cables = self.cables;
        (self.words, changed)
    }
}

fn text(value: &str, like: &Spanned<String>) -> Spanned<String> {
    Spanned {
        value: value.to_owned(),
        ..like.clone()
    }
}

/// Every terminal of the job that a wire can land on.
fn terminals(net: &Netlist) -> Vec<String> {
    net.points()
        .filter(|(_, point)| point.unit().is_some())
        .map(|(_, point)| point.name.clone())
        .collect()
}

/// Every wire end of the job: cable, number of the wire, whether its far end.
fn ends(model: &Model) -> Vec<(String, usize, bool)> {
    let of = |cable: &Cable| {
        let name = cable.name.clone();
        (0..cable.wires.len()).flat_map(move |n| {
            let name = name.clone();
            [false, true].map(move |far| (name.clone(), n, far))
        })
    };
    model.cables.values().flat_map(of).collect()
}

fn end_mut<'m>(
    cables: &'m mut Cables,
    (cable, n, far): &(String, usize, bool),
) -> &'m mut Spanned<String> {
    let wire = &mut cables.get_mut(cable).unwrap().wires[*n];
    if *far { &mut wire.to } else { &mut wire.from }
}

fn edits(checked: &Checked) -> Vec<Edit> {
    let model = &checked.model;
    let net = Netlist::of(model, &checked.catalog);
    let (terminals, ends) = (terminals(&net), ends(model));
    let mut out = Vec::new();
    for (cable, n, _) in ends.iter().filter(|(.., far)| !far) {
        let mut changed = model.cables.clone();
        let wire = changed.get_mut(cable).unwrap().wires.remove(*n);
        out.push(Edit {
            words: format!("remove {} of {cable}", wire.colour.value),
            cables: changed,
        });
    }
    for end in &ends {
        for terminal in &terminals {
            let mut changed = model.cables.clone();
            let slot = end_mut(&mut changed, end);
            if slot.value == *terminal {
                continue;
            }
            let was = std::mem::replace(&mut slot.value, terminal.clone());
            let words = format!("move wire {} of {} from {was} to {terminal}", end.1, end.0);
            out.push(Edit {
                words,
                cables: changed,
            });
        }
    }
    for (n, one) in ends.iter().enumerate() {
        for other in ends.iter().skip(n + 1) {
            let mut changed = model.cables.clone();
            let (a, c) = (
                end_mut(&mut changed, one).value.clone(),
                end_mut(&mut changed, other).value.clone(),
            );
            if a == c {
                continue;
            }
            end_mut(&mut changed, one).value.clone_from(&c);
            end_mut(&mut changed, other).value.clone_from(&a);
            let words = format!(
                "swap {a} of {}.{} with {c} of {}.{}",
                one.0, one.1, other.0, other.1
            );
            out.push(Edit {
                words,
                cables: changed,
            });
        }
    }
    for (n, one) in terminals.iter().enumerate() {
        for other in terminals.iter().skip(n + 1) {
            let mut changed = model.cables.clone();
            let first = model.cables.values().next().unwrap();
            let like = &first.from;
            let wire = Wire {
                colour: text("odd", like),
                from: text(one, like),
                to: text(other, like),
                span: first.span,
            };
            let mut cable = first.clone();
            cable.name = "added".to_owned();
            cable.item = None;
            cable.wires = vec![wire];
            cable.spares.clear();
            changed.insert("added".to_owned(), cable);
            out.push(Edit {
                words: format!("add {one} to {other}"),
                cables: changed,
            });
        }
    }
    out
}

/// Faults that a reader of the drawing finds without running it; counted apart.
const STATIC: [&str; 6] = ["CTL010", "CTL011", "CTL012", "CTL013", "CTL030", "CTL031"];

/// What the rules on control wiring say, without the static faults.
fn reported(checked: &Checked, model: &Model) -> Vec<String> {
    let net = Netlist::of(model, &checked.catalog);
    let wiring = Wiring::of(&net, model, &checked.catalog);
    let job = Job {
        model,
        ledger: &checked.ledger,
        catalog: &checked.catalog,
        standards: &checked.standards,
        wiring: &wiring,
    };
    let mut report = Report::default();
    for rule in RULES
        .iter()
        .filter(|rule| rule.kind.code.starts_with("CTL"))
    {
        (rule.check)(&job, &mut report);
    }
    report
        .findings()
        .iter()
        .filter(|finding| !STATIC.contains(&finding.kind.code))
        .map(|finding| format!("{} {}", finding.kind.code, finding.message))
        .collect()
}

fn example(name: &str) -> Checked {
    let path = root().join(format!("examples/{name}/{name}.bay"));
    let disk = Disk;
    Workshop::new(&disk, None).check(&path, name).unwrap()
}

/// Tries one in `every` edits; gives how many, and those where report and bench differ.
fn tried(name: &str, every: usize) -> (usize, Vec<String>) {
    let checked = example(name);
    let before = Bench::of(&checked.model, &checked.catalog);
    assert_eq!(before.worse_than(&before), Vec::<String>::new(), "{name}");
    assert_eq!(
        reported(&checked, &checked.model),
        Vec::<String>::new(),
        "{name}"
    );
    let known = before.static_faults();
    let mut differ = Vec::new();
    let mut count = 0;
    for edit in edits(&checked).into_iter().step_by(every) {
        count += 1;
        let (words, model) = edit.of(&checked.model);
        let bench = Bench::of(&model, &checked.catalog);
        let worse = bench.worse_than(&before);
        let drawn = bench
            .static_faults()
            .iter()
            .any(|fault| !known.contains(fault));
        let said = reported(&checked, &model);
        if worse.is_empty() != said.is_empty() && !(worse.is_empty() && drawn) {
            let first = worse.first().map_or("nothing worse", String::as_str);
            differ.push(format!("{name}: {words}: {first}; said {said:?}"));
        }
    }
    (count, differ)
}

#[test]
fn every_edit_for_the_worse_is_reported_and_no_other() {
    let every: usize = std::env::var("BAYRUN_EVERY")
        .ok()
        .and_then(|every| every.parse().ok())
        .unwrap_or(2);
    let tries: Vec<(usize, Vec<String>)> = std::thread::scope(|scope| {
        let all = [
            ("larkspur-lane", every.div_ceil(3)),
            ("old-farmhouse", every * 5),
        ];
        let running: Vec<_> = all
            .into_iter()
            .map(|(name, every)| scope.spawn(move || tried(name, every)))
            .collect();
        running.into_iter().map(|one| one.join().unwrap()).collect()
    });
    let count: usize = tries.iter().map(|(count, _)| count).sum();
    let differ: Vec<&String> = tries.iter().flat_map(|(_, differ)| differ).collect();
    assert!(count >= 2_000 || every > 2, "{count} edits are too few");
    println!("{count} edits, {} not as the bench shows", differ.len());
    assert!(
        differ.is_empty(),
        "{} of {count} edits differ:\n{}",
        differ.len(),
        differ
            .iter()
            .map(|line| line.as_str())
            .collect::<Vec<_>>()
            .join("\n")
    );
}

/// One contactor at the end of a long cable, by Ohm's law: solid copper of 18 AWG has 7.77 ohms per 1000 ft (NEC
/// chapter 9 table 8), 9 VA at 24 V are 64 ohms.
#[test]
fn a_contactor_at_the_end_of_a_cable_gets_what_ohm_says() {
    let path = root().join("tests/cases/controls/control_voltage_low/fail-long-cable.bay");
    let checked = Workshop::new(&Disk, None).check(&path, "case").unwrap();
    let net = Netlist::of(&checked.model, &checked.catalog);
    let circuit = bayrun::systems::controls::Circuit::of(&net, &checked.model, &checked.catalog);
    let ohms = circuit.ohms(&checked.model, &checked.catalog);
    let lowest = circuit.lowest_volts(&ohms, &circuit.calls_alone());
    let outdoor = lowest
        .iter()
        .find(|one| {
            let at = circuit.loads()[one.load].at;
            net.at(at).is_some_and(|point| point.name == "ou.Y")
        })
        .unwrap();
    let cable = 2.0 * 600.0 * 7.77 / 1000.0;
    let wanted = 24.0 * 64.0 / (64.0 + cable);
    assert!(
        (outdoor.volts - wanted).abs() < 1e-9,
        "{} {wanted}",
        outdoor.volts
    );
}

/// A heat pump whose valve is fed in cooling: the compressor runs for heat without the valve, the second stage brings the
/// other heat along, and emergency heat leaves the compressor off (usage of the terminals O, Y, W and E in the trade).
#[test]
fn a_heat_pump_turns_its_valve_in_cooling_alone() {
    let path = root().join("tests/cases/controls/call_lost/pass-heat-pump.bay");
    let checked = Workshop::new(&Disk, None).check(&path, "case").unwrap();
    for (call, runs) in [
        ("fan", "ah.G"),
        ("cool", "ah.G, ah.Y, ou.Y, ou.O"),
        ("heat", "ah.G, ah.Y, ou.Y"),
        ("heat-2", "ah.G, ah.Y, ah.W, ou.Y"),
        ("emergency", "ah.W"),
    ] {
        let id = format!("control.stat.runs-on-{call}");
        assert_eq!(checked.ledger.word(&id), Some(runs), "{call}");
    }
}

/// What is fed at no call, and a conductor that ends in a splice with nothing behind it.
#[test]
fn what_no_call_reaches_and_what_leads_nowhere_is_told() {
    let lane = example("larkspur-lane");
    assert_eq!(
        lane.ledger.word("control.ou.never-called"),
        Some("ou.Y2"),
        "the thermostat has one stage"
    );
    assert_eq!(lane.ledger.word("control.ah.never-called"), None);

    let path = root().join("tests/cases/controls/call_not_driven/pass-valve-over-splice.bay");
    let checked = Workshop::new(&Disk, None).check(&path, "case").unwrap();
    let loose = |model: &Model| -> Vec<(String, String)> {
        let net = Netlist::of(model, &checked.catalog);
        let name = |n: usize| net.at(n).unwrap().name.clone();
        let ends = net.loose_ends().into_iter();
        ends.map(|(one, end)| (name(one), name(end))).collect()
    };
    assert_eq!(loose(&checked.model), []);
    let mut cut = checked.model.clone();
    let cable = cut.cables.get_mut("ou-cable").unwrap();
    cable.wires.retain(|wire| wire.to.value != "ou.O");
    assert_eq!(
        loose(&cut),
        [("stat-cable.orange".to_owned(), "stat.O".to_owned())]
    );
}
