//! The terminals of the job, the conductors of its cables and its splices, and what is joined to what.

use std::collections::BTreeSet;

use foldhash::fast::RandomState;
use indexmap::IndexMap;

use crate::catalog::{Call, CallSide, Catalog, NOT_READABLE, Role, Terminal};
use crate::model::Model;
use crate::source::{Span, Spanned};

/// What a point of the wiring is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// A terminal of a unit.
    Terminal {
        /// The unit's name.
        unit: String,
        /// Its word in the language.
        kind: &'static str,
        /// What the terminal is for; none when the catalog does not say.
        role: Option<Role>,
        /// Where the unit stands in the job.
        head: Span,
    },
    /// A conductor of a cable.
    Conductor {
        /// The cable.
        cable: String,
        /// Its colour.
        colour: String,
    },
    /// A splice.
    Splice,
}

/// Kinds whose catalog sheet always has control terminals.
const WITH_TERMINALS: &[&str] = &[
    "thermostat",
    "relay",
    "switch",
    "outdoor-unit",
    "boiler",
    "chiller",
    "pump",
];

/// Whether the catalog says what a terminal is for, in words that could not be read.
fn is_misread(terminal: &Terminal) -> bool {
    terminal.role.reason() == Some(NOT_READABLE)
}

/// A point of the wiring.
#[derive(Clone, Debug)]
pub struct Point {
    /// As the job writes it: `ah.Y`, `stat-cable.red`, `s1`.
    pub name: String,
    /// What it is.
    pub place: Place,
}

impl Point {
    /// What the terminal is for.
    pub const fn role(&self) -> Option<Role> {
        match &self.place {
            Place::Terminal { role, .. } => *role,
            _ => None,
        }
    }

    /// The call it carries, and on which side of it.
    pub fn call(&self) -> Option<(CallSide, Call)> {
        self.role().and_then(Role::call)
    }

    /// The unit it belongs to.
    pub fn unit(&self) -> Option<&str> {
        match &self.place {
            Place::Terminal { unit, .. } => Some(unit),
            _ => None,
        }
    }

    /// The unit's word in the language.
    pub const fn kind(&self) -> &'static str {
        match &self.place {
            Place::Terminal { kind, .. } => kind,
            _ => "",
        }
    }

    /// As reports name it on a path.
    pub fn words(&self) -> String {
        match &self.place {
            Place::Terminal { .. } => self.name.clone(),
            Place::Conductor { cable, colour } => format!("{colour} of {cable}"),
            Place::Splice => format!("splice {}", self.name),
        }
    }
}

/// Two points joined, and the words that join them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Join {
    /// One point.
    pub one: usize,
    /// The other.
    pub other: usize,
    /// The words that name the end: a terminal in a `wire`, a conductor in a `join`; none inside a switch.
    pub words: Option<Span>,
}

/// A relay: its coil's ends and its contact.
#[derive(Clone, Debug)]
pub(super) struct Relay {
    pub(super) name: String,
    pub(super) coil: Vec<usize>,
    pub(super) common: Vec<usize>,
    pub(super) switched: Vec<usize>,
    /// Contacts that close when the coil is fed.
    pub(super) open: Vec<usize>,
    /// Contacts that open when the coil is fed.
    pub(super) closed: Vec<usize>,
}

/// A switch with two leads.
#[derive(Clone, Debug)]
pub(super) struct Switch {
    pub(super) unit: String,
    pub(super) leads: [usize; 2],
    /// Whether it conducts while it has tripped.
    pub(super) conducts_tripped: bool,
}

/// The wiring of a job.
#[derive(Clone, Debug, Default)]
pub struct Netlist {
    points: IndexMap<String, Point, RandomState>,
    joins: Vec<Join>,
    pub(super) beside: Vec<Vec<(usize, usize)>>,
    net_of: Vec<usize>,
    pub(super) relays: Vec<Relay>,
    pub(super) switches: Vec<Switch>,
    /// Whether a cable, or what a terminal is for, was misread: what is missing may be there.
    pub flawed: bool,
}

impl Netlist {
    /// The wiring of `model`.
    pub fn of(model: &Model, catalog: &Catalog) -> Self {
        let mut net = Self::default();
        net.terminals(model, catalog);
        net.cables(model);
        net.splices(model);
        net.spread();
        net
    }

    fn point(&mut self, name: &str, place: Place) -> usize {
        if let Some(known) = self.points.get_index_of(name) {
            return known;
        }
        let point = Point {
            name: name.to_owned(),
            place,
        };
        self.points.insert_full(name.to_owned(), point).0
    }

    fn join(&mut self, one: usize, other: usize, words: Option<Span>) {
        self.joins.push(Join { one, other, words });
    }

    fn terminals(&mut self, model: &Model, catalog: &Catalog) {
        let put = |net: &mut Self, unit: &str, kind, head, name: &str, role: Option<Role>| {
            let place = Place::Terminal {
                unit: unit.to_owned(),
                kind,
                role,
                head,
            };
            net.point(&format!("{unit}.{name}"), place)
        };
        for unit in model.air_handlers.values() {
            self.flawed |= unit.sheet.control.values().any(is_misread);
            for (name, terminal) in unit.sheet.control.iter() {
                put(
                    self,
                    &unit.name,
                    "air-handler",
                    unit.span,
                    name,
                    terminal.role.get(),
                );
            }
        }
        for unit in model.equipment.values() {
            let Some(terminals) = &unit.terminals else {
                // A model that no catalog holds, or a line misread: what its terminals are for is not known.
                let named = unit.model.is_some() || unit.flawed;
                self.flawed |= named && WITH_TERMINALS.contains(&unit.kind);
                continue;
            };
            self.flawed |= terminals.values().any(is_misread);
            let placed: Vec<(usize, Option<Role>)> = terminals
                .iter()
                .map(|(name, terminal)| {
                    let role = terminal.role.get();
                    (
                        put(self, &unit.name, unit.kind, unit.span, name, role),
                        role,
                    )
                })
                .collect();
            let with = |wanted: &[Role]| -> Vec<usize> {
                placed
                    .iter()
                    .filter(|(_, role)| role.is_some_and(|role| wanted.contains(&role)))
                    .map(|(point, _)| *point)
                    .collect()
            };
            if unit.kind == "relay" {
                self.relays.push(Relay {
                    name: unit.name.clone(),
                    coil: with(&[Role::Coil]),
                    common: with(&[Role::ContactCommon]),
                    switched: with(&[Role::ContactOpen, Role::ContactClosed]),
                    open: with(&[Role::ContactOpen]),
                    closed: with(&[Role::ContactClosed]),
                });
            }
            // A float switch conducts as long as the water is low; one that closes on rise does not.
            let rests_open = unit
                .model
                .as_ref()
                .and_then(|model| catalog.float_switches.get(&model.value))
                .is_some_and(|sheet| sheet.opens_on_rise.get() == Some(false));
            if let ("switch" | "pump", [one, other]) = (unit.kind, with(&[Role::Switch]).as_slice())
            {
                if !rests_open {
                    self.join(*one, *other, None);
                }
                self.switches.push(Switch {
                    unit: unit.name.clone(),
                    leads: [*one, *other],
                    conducts_tripped: rests_open,
                });
            }
        }
    }

    /// The point at a wire's end; a terminal that no catalog knows gets one without a role.
    fn end(&mut self, model: &Model, end: &Spanned<String>) -> usize {
        let unit = end.value.split_once('.').map(|(unit, _)| unit);
        let place = match unit {
            None => Place::Splice,
            Some(unit) => Place::Terminal {
                unit: unit.to_owned(),
                kind: model.equipment.get(unit).map_or("", |unit| unit.kind),
                role: None,
                head: end.span,
            },
        };
        self.point(&end.value, place)
    }

    fn cables(&mut self, model: &Model) {
        for cable in model.cables.values() {
            self.flawed |= cable.flawed;
            for (n, wire) in cable.wires.iter().enumerate() {
                let colour = &wire.colour.value;
                let taken = cable
                    .wires
                    .iter()
                    .take(n)
                    .any(|other| other.colour.value == *colour);
                let mut name = format!("{}.{colour}", cable.name);
                if taken {
                    name = format!("{name} (again, wire {})", n + 1);
                }
                let conductor = self.point(
                    &name,
                    Place::Conductor {
                        cable: cable.name.clone(),
                        colour: colour.clone(),
                    },
                );
                let (from, to) = (self.end(model, &wire.from), self.end(model, &wire.to));
                self.join(from, conductor, Some(wire.from.span));
                self.join(conductor, to, Some(wire.to.span));
            }
            for spare in &cable.spares {
                self.point(
                    &format!("{}.{}", cable.name, spare.value),
                    Place::Conductor {
                        cable: cable.name.clone(),
                        colour: spare.value.clone(),
                    },
                );
            }
        }
    }

    fn splices(&mut self, model: &Model) {
        for entry in model
            .entries
            .iter()
            .filter(|entry| entry.word.word == "splice")
        {
            let Some(name) = entry.text("name").known() else {
                continue;
            };
            self.flawed |= entry.flawed || entry.body_flawed;
            let splice = self.point(&name.value, Place::Splice);
            for join in entry.children("join") {
                if let Some(conductor) = join.text("conductor").known() {
                    let point = self.end(model, &conductor);
                    self.join(splice, point, Some(conductor.span));
                }
            }
        }
    }

    /// Numbers the nets: points that are joined, however roundabout, get one number.
    fn spread(&mut self) {
        self.beside = vec![Vec::new(); self.points.len()];
        for (n, join) in self.joins.iter().enumerate() {
            for (here, there) in [(join.one, join.other), (join.other, join.one)] {
                if let Some(list) = self.beside.get_mut(here) {
                    list.push((there, n));
                }
            }
        }
        self.net_of = vec![usize::MAX; self.points.len()];
        for start in 0..self.points.len() {
            let mut waiting = vec![start];
            while let Some(point) = waiting.pop() {
                match self.net_of.get_mut(point) {
                    Some(net) if *net == usize::MAX => *net = start,
                    _ => continue,
                }
                if let Some(list) = self.beside.get(point) {
                    waiting.extend(list.iter().map(|(there, _)| *there));
                }
            }
        }
    }

    /// Every point, with its number.
    pub fn points(&self) -> impl Iterator<Item = (usize, &Point)> {
        self.points.values().enumerate()
    }

    /// The point numbered `n`.
    pub fn at(&self, n: usize) -> Option<&Point> {
        self.points.get_index(n).map(|(_, point)| point)
    }

    /// The number of the point with that name.
    pub fn number(&self, name: &str) -> Option<usize> {
        self.points.get_index_of(name)
    }

    /// The net of a point.
    pub fn net(&self, point: usize) -> usize {
        self.net_of.get(point).copied().unwrap_or(usize::MAX)
    }

    /// The points of a net.
    pub fn members(&self, net: usize) -> impl Iterator<Item = (usize, &Point)> {
        self.points().filter(move |(n, _)| self.net(*n) == net)
    }

    /// The nets, each once, with their points.
    pub fn nets(&self) -> Vec<Vec<(usize, &Point)>> {
        let mut nets: IndexMap<usize, Vec<(usize, &Point)>> = IndexMap::new();
        for (n, point) in self.points() {
            nets.entry(self.net(n)).or_default().push((n, point));
        }
        nets.into_values().collect()
    }

    /// Whether anything is joined to a point.
    pub fn is_wired(&self, point: usize) -> bool {
        self.beside.get(point).is_some_and(|list| !list.is_empty())
    }

    /// Every join.
    pub(super) fn joins(&self) -> &[Join] {
        &self.joins
    }

    /// The end of a join that is the wire's and not a terminal's.
    pub(super) fn wire_side(&self, join: &Join) -> usize {
        let is_terminal = |n: usize| self.at(n).is_some_and(|point| point.unit().is_some());
        if is_terminal(join.one) {
            join.other
        } else {
            join.one
        }
    }

    /// The joins of a point.
    pub fn joins_of(&self, point: usize) -> impl Iterator<Item = &Join> {
        self.beside
            .get(point)
            .into_iter()
            .flatten()
            .filter_map(|(_, join)| self.joins.get(*join))
    }

    /// Conductors that come from a terminal and lead nowhere: each with the terminal where it is live.
    pub fn loose_ends(&self) -> Vec<(usize, usize)> {
        let is_terminal = |n: usize| self.at(n).is_some_and(|point| point.unit().is_some());
        let mut cut: Vec<bool> = vec![false; self.points.len()];
        // A splice may be named by the wire and name the conductor too: that is one neighbor.
        let neighbors = |cut: &[bool], n: usize| {
            let beside = self.beside.get(n).into_iter().flatten();
            let there = beside.filter(|(there, _)| cut.get(*there) == Some(&false));
            let there: BTreeSet<usize> = there.map(|(there, _)| *there).collect();
            there.len()
        };
        // What has one neighbor left and is no terminal leads nowhere, and so does what led only to it.
        while let Some(n) = (0..self.points.len())
            .find(|n| !is_terminal(*n) && cut.get(*n) == Some(&false) && neighbors(&cut, *n) < 2)
        {
            if let Some(slot) = cut.get_mut(n) {
                *slot = true;
            }
        }
        self.points()
            .filter(|(n, point)| {
                matches!(point.place, Place::Conductor { .. }) && cut.get(*n) == Some(&true)
            })
            .filter_map(|(n, _)| {
                let (end, _) = self.members(self.net(n)).find(|(n, _)| is_terminal(*n))?;
                Some((n, end))
            })
            .collect()
    }
}
