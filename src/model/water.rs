//! Hot water: pipes walked leg by leg, and the boilers, coils, circulators and radiators that they join.

use indexmap::IndexMap;

use crate::language::Entry;
use crate::quantity::{Length, show_length, trade_length};
use crate::source::{Finding, Relation, Span, Spanned};

use super::air::no_leg;
use super::build::Builder;
use super::mistakes::TAPED_UNDER_LEGS;
use super::place::Direction;
use super::water_loop::{WaterLoop, loops};

/// An end of a water pipe.
#[derive(Clone, Debug)]
pub struct WaterEnd {
    /// What it joins: a boiler, a coil, another pipe.
    pub thing: String,
    /// The port of it, where said (`supply`, `return`).
    pub port: Option<String>,
    /// The words.
    pub span: Span,
}

/// A straight piece of water pipe.
#[derive(Clone, Debug)]
pub struct WaterLeg {
    /// Which way it goes.
    pub direction: Direction,
    /// Its length along the tape.
    pub length: Length,
    /// How much higher it ends than it starts.
    pub climb: Length,
    /// The pipe it is made of.
    pub pipe: Option<Spanned<String>>,
    /// The statement.
    pub span: Span,
}

/// What a water pipe has at a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WaterMark {
    /// An air vent.
    Vent,
    /// A valve.
    Valve,
    /// A flow check.
    FlowCheck,
    /// An elbow that is said; others follow from the legs.
    Elbow,
}

/// A water pipe from one thing to another, in the way the water goes.
#[derive(Clone, Debug)]
pub struct WaterPipe {
    /// Its name.
    pub name: String,
    /// Where the water comes from.
    pub from: WaterEnd,
    /// Where it goes.
    pub to: WaterEnd,
    /// The first pipe.
    pub pipe: Option<Spanned<String>>,
    /// Its legs, where it shows any.
    pub legs: Vec<WaterLeg>,
    /// What stands on it, with the number of legs before it.
    pub marks: Vec<(WaterMark, usize, Span)>,
    /// Its length by tape.
    pub measured: Option<Spanned<Length>>,
    /// Bends that no leg shows.
    pub bends: Option<Spanned<f64>>,
    /// Support spacing, where said.
    pub hangers: Option<Spanned<Length>>,
    /// What it is wrapped in, where said.
    pub insulation: Option<Spanned<String>>,
    /// Spaces that it is said to pass through.
    pub through: Vec<Spanned<String>>,
    /// Its head.
    pub span: Span,
    /// Its whole block.
    pub whole: Span,
    /// Whether part of it was misread, or a length of it is not known yet.
    pub flawed: bool,
}

impl WaterPipe {
    /// Its length: by tape where taped, else the sum of its legs; none where neither is known.
    pub fn length(&self) -> Option<Length> {
        let drawn: Length = self.legs.iter().map(|leg| leg.length).sum();
        match self.measured {
            Some(measured) => Some(measured.value.max(drawn)),
            None if self.legs.is_empty() || self.flawed => None,
            None => Some(drawn),
        }
    }

    /// How much higher it ends than it starts; none where it shows no legs.
    pub fn climb(&self) -> Option<Length> {
        (!self.legs.is_empty() && !self.flawed).then(|| self.legs.iter().map(|leg| leg.climb).sum())
    }

    /// Right-angle turns: between legs of different ways, elbows that are said elsewhere, and bends.
    pub fn elbows(&self) -> usize {
        let said = |node: usize| {
            self.marks
                .iter()
                .filter(|(mark, at, _)| *mark == WaterMark::Elbow && *at == node)
                .count()
        };
        let turned = |node: usize| {
            let before = node.checked_sub(1).and_then(|n| self.legs.get(n));
            let after = self.legs.get(node);
            matches!((before, after), (Some(a), Some(b)) if a.direction != b.direction)
        };
        let nodes: usize = (0..=self.legs.len())
            .map(|node| said(node).max(usize::from(turned(node))))
            .sum();
        let bends = self
            .bends
            .map_or(0.0, |bends| bends.value.clamp(0.0, 999.0));
        nodes
            + (0..1000)
                .take_while(|n| f64::from(*n) + 0.5 < bends)
                .count()
    }

    /// How many marks of a kind it has.
    pub fn count(&self, kind: WaterMark) -> usize {
        self.marks.iter().filter(|(mark, ..)| *mark == kind).count()
    }
}

/// A boiler, or a water heater that heats the house.
#[derive(Clone, Debug)]
pub struct Boiler {
    /// Its name.
    pub name: String,
    /// Its model.
    pub model: Option<Spanned<String>>,
    /// Its water at winter design, °F.
    pub water: Option<Spanned<f64>>,
    /// Whether the job says that temperature, known yet or not.
    pub water_said: bool,
    /// What sort it is.
    pub kind: Option<Spanned<String>>,
    /// Cold fill, psi on its gauge.
    pub fill: Option<Spanned<f64>>,
    /// Opening of its relief valve, psi.
    pub relief: Option<Spanned<f64>>,
    /// Where it says that its fill line has a backflow preventer.
    pub backflow_preventer: Option<Span>,
    /// Where it says that a mixing valve holds the taps.
    pub mixing_valve: Option<Span>,
    /// Where it says that an air separator stands where the water leaves it.
    pub air_separator: Option<Span>,
    /// Its head.
    pub span: Span,
    /// Its whole block.
    pub whole: Span,
    /// Whether part of it was misread.
    pub flawed: bool,
}

/// A hot-water coil in an air handler.
#[derive(Clone, Debug)]
pub struct WaterCoil {
    /// Its name.
    pub name: String,
    /// The unit that it stands in.
    pub unit: Spanned<String>,
    /// Its model.
    pub model: Option<Spanned<String>>,
    /// The water that is asked for, °F.
    pub water: Option<Spanned<f64>>,
    /// The flow that is asked for, gpm.
    pub flow: Option<Spanned<f64>>,
    /// Propylene glycol in the water, % by mass.
    pub glycol: Option<Spanned<f64>>,
    /// Whether the job says a share of glycol, known yet or not.
    pub glycol_said: bool,
    /// What keeps its water from freezing.
    pub freeze_protection: Option<Spanned<String>>,
    /// Its head.
    pub span: Span,
    /// Its whole block.
    pub whole: Span,
    /// Whether part of it was misread.
    pub flawed: bool,
}

/// A circulator.
#[derive(Clone, Debug)]
pub struct Circulator {
    /// Its name.
    pub name: String,
    /// The pipe that it stands in.
    pub pipe: Spanned<String>,
    /// Its model.
    pub model: Option<Spanned<String>>,
    /// The relay whose contact starts it.
    pub relay: Option<Spanned<String>>,
    /// Its head.
    pub span: Span,
}

/// Old radiators that stay live.
#[derive(Clone, Debug)]
pub struct Radiators {
    /// Their name.
    pub name: String,
    /// The boiler that feeds them.
    pub boiler: Spanned<String>,
    /// Rooms and the heat given there, Btu/h.
    pub rooms: Vec<(Spanned<String>, Spanned<f64>)>,
    /// The water temperature at which they give it, °F.
    pub rated: Option<Spanned<f64>>,
    /// The temperature at which their water comes back, °F.
    pub returns: Option<Spanned<f64>>,
    /// Their head.
    pub span: Span,
    /// Whether part of them was misread, or is not known yet.
    pub flawed: bool,
}

/// All hot water of a job, by name.
#[derive(Clone, Debug, Default)]
pub struct HotWater {
    /// Pipes.
    pub pipes: IndexMap<String, WaterPipe>,
    /// Boilers.
    pub boilers: IndexMap<String, Boiler>,
    /// Coils.
    pub coils: IndexMap<String, WaterCoil>,
    /// Circulators.
    pub circulators: IndexMap<String, Circulator>,
    /// Radiators.
    pub radiators: IndexMap<String, Radiators>,
    /// Loops from a boiler and back.
    pub loops: Vec<WaterLoop>,
}

impl HotWater {
    /// The coil in a unit.
    pub fn coil_in(&self, unit: &str) -> Option<&WaterCoil> {
        self.coils.values().find(|coil| coil.unit.value == unit)
    }

    /// The loop that a pipe or a coil belongs to.
    pub fn loop_of(&self, name: &str) -> Option<&WaterLoop> {
        self.loops
            .iter()
            .find(|water| water.pipes().contains(&name) || water.coils().contains(&name))
    }

    /// The boiler's water at winter design, where it is known.
    pub fn boiler_water(&self, boiler: &str) -> Option<Spanned<f64>> {
        self.boilers.get(boiler)?.water
    }

    /// The glycol of a loop: that of its coils.
    pub fn glycol_of(&self, water: &WaterLoop) -> Option<Spanned<f64>> {
        water
            .coils()
            .into_iter()
            .find_map(|coil| self.coils.get(coil)?.glycol)
    }
}

fn end(text: &Spanned<String>) -> WaterEnd {
    let (thing, port) = match text.value.split_once('.') {
        Some((thing, port)) => (thing.to_owned(), Some(port.to_owned())),
        None => (text.value.clone(), None),
    };
    WaterEnd {
        thing,
        port,
        span: text.span,
    }
}

fn pipe(builder: &mut Builder<'_>, entry: &Entry) -> Option<WaterPipe> {
    let name = entry.text("name").known()?;
    let (from, to) = (entry.text("from").known()?, entry.text("to").known()?);
    let mut pipe = WaterPipe {
        name: name.value,
        from: end(&from),
        to: end(&to),
        pipe: None,
        legs: Vec::new(),
        marks: Vec::new(),
        measured: None,
        bends: None,
        hangers: None,
        insulation: None,
        through: Vec::new(),
        span: entry.span,
        whole: entry.whole,
        flawed: entry.flawed || entry.body_flawed,
    };
    let mut made_of: Option<Spanned<String>> = None;
    for child in &entry.body {
        let node = pipe.legs.len();
        if let Some(direction) = Direction::named(child.word.word) {
            let Some(length) = builder.size(child, "run") else {
                pipe.flawed = true;
                continue;
            };
            let climb = match direction {
                Direction::Up => length.value,
                Direction::Down => -length.value,
                _ => Length::ZERO,
            };
            pipe.legs.push(WaterLeg {
                direction,
                length: length.value,
                climb,
                pipe: made_of.clone(),
                span: child.span,
            });
            continue;
        }
        match child.word.word {
            "pipe" | "reduce" => {
                made_of = builder.text(child, "pipe");
                pipe.flawed |= made_of.is_none();
                if child.word.word == "pipe" {
                    pipe.pipe.clone_from(&made_of);
                }
            }
            "fall" | "rise" => {
                let down = child.word.word == "fall";
                let amount = builder.length(child, if down { "fall" } else { "rise" });
                match (pipe.legs.last_mut(), amount) {
                    (Some(leg), Some(amount)) => {
                        leg.climb += if down { -amount.value } else { amount.value };
                    }
                    (None, _) => no_leg(builder, child),
                    (Some(_), None) => pipe.flawed = true,
                }
            }
            "vent" => pipe.marks.push((WaterMark::Vent, node, child.span)),
            "valve" => pipe.marks.push((WaterMark::Valve, node, child.span)),
            "flow-check" => pipe.marks.push((WaterMark::FlowCheck, node, child.span)),
            "elbow" => pipe.marks.push((WaterMark::Elbow, node, child.span)),
            "measured" => {
                pipe.measured = builder.size(child, "length");
                pipe.flawed |= pipe.measured.is_none();
            }
            "bends" => pipe.bends = builder.real(child, "count"),
            "hanger" => pipe.hangers = builder.size(child, "spacing"),
            "insulation" => pipe.insulation = builder.text(child, "insulation"),
            "through" => pipe.through.extend(child.text("space").known()),
            _ => {}
        }
    }
    let drawn: Length = pipe.legs.iter().map(|leg| leg.length).sum();
    if let (Some(taped), false) = (pipe.measured, pipe.flawed)
        && taped.value < drawn
    {
        let name = &pipe.name;
        builder.findings.push(
            Finding::new(
                &TAPED_UNDER_LEGS,
                taped.span,
                format!("water pipe `{name}` is taped shorter than its legs are together"),
                format!(
                    "measure again: at least `{}`, or correct the legs",
                    trade_length(drawn)
                ),
            )
            .measured(
                show_length(taped.value),
                Relation::AtLeast,
                show_length(drawn),
            ),
        );
        pipe.flawed = true;
    }
    Some(pipe)
}

fn boiler(builder: &mut Builder<'_>, entry: &Entry) -> Option<Boiler> {
    let name = entry.text("name").known()?;
    let mut real = |word: &str, slot: &str| {
        let child = entry.child(word)?;
        builder.real(child, slot)
    };
    Some(Boiler {
        name: name.value,
        water: real("water", "temperature"),
        fill: real("fill", "pressure"),
        relief: real("relief", "pressure"),
        water_said: entry.child("water").is_some(),
        model: entry.child("model").and_then(|c| c.text("model").known()),
        kind: entry.child("kind").and_then(|c| c.text("kind").known()),
        backflow_preventer: entry.child("backflow-preventer").map(|c| c.span),
        mixing_valve: entry.child("mixing-valve").map(|c| c.span),
        air_separator: entry.child("air-separator").map(|c| c.span),
        span: entry.span,
        whole: entry.whole,
        flawed: entry.flawed || entry.body_flawed,
    })
}

fn coil(builder: &mut Builder<'_>, entry: &Entry) -> Option<WaterCoil> {
    let name = entry.text("name").known()?;
    let unit = entry.text("unit").known()?;
    let mut real = |word: &str, slot: &str| {
        let child = entry.child(word)?;
        builder.real(child, slot)
    };
    Some(WaterCoil {
        name: name.value,
        unit,
        water: real("water", "temperature"),
        flow: real("flow", "flow"),
        glycol: real("glycol", "share"),
        glycol_said: entry.child("glycol").is_some(),
        model: entry.child("model").and_then(|c| c.text("model").known()),
        freeze_protection: entry
            .child("freeze-protection")
            .and_then(|c| c.text("how").known()),
        span: entry.span,
        whole: entry.whole,
        flawed: entry.flawed || entry.body_flawed,
    })
}

fn radiators(builder: &mut Builder<'_>, entry: &Entry) -> Option<Radiators> {
    let name = entry.text("name").known()?;
    let mut flawed = entry.flawed || entry.body_flawed;
    let mut rooms = Vec::new();
    for child in entry.children("room") {
        match (child.text("room").known(), builder.real(child, "heat")) {
            (Some(room), Some(heat)) => rooms.push((room, heat)),
            _ => flawed = true,
        }
    }
    let mut temperature = |word: &str| {
        let said = entry.child(word);
        let value = said.and_then(|child| builder.real(child, "temperature"));
        flawed |= said.is_some() && value.is_none();
        value
    };
    let (rated, returns) = (temperature("rated"), temperature("returns"));
    Some(Radiators {
        name: name.value,
        boiler: entry.text("boiler").known()?,
        rooms,
        rated,
        returns,
        span: entry.span,
        flawed,
    })
}

/// Reads all hot water, once every name is known; lines whose name is taken are reported elsewhere.
pub(super) fn read(builder: &mut Builder<'_>, entries: &[Entry]) {
    let mut water = HotWater::default();
    for entry in entries {
        match entry.word.word {
            "water-pipe" => {
                if let Some(pipe) = pipe(builder, entry) {
                    water.pipes.entry(pipe.name.clone()).or_insert(pipe);
                }
            }
            "boiler" => {
                if let Some(boiler) = boiler(builder, entry) {
                    water.boilers.entry(boiler.name.clone()).or_insert(boiler);
                }
            }
            "water-coil" => {
                if let Some(coil) = coil(builder, entry) {
                    water.coils.entry(coil.name.clone()).or_insert(coil);
                }
            }
            "circulator" => {
                if let (Some(name), Some(pipe)) =
                    (entry.text("name").known(), entry.text("pipe").known())
                {
                    let circulator = Circulator {
                        name: name.value.clone(),
                        pipe,
                        model: entry.child("model").and_then(|c| c.text("model").known()),
                        relay: entry
                            .child("started")
                            .and_then(|c| c.text("relay").known())
                            .filter(|relay| builder.expect(&["relay"], relay)),
                        span: entry.span,
                    };
                    water.circulators.entry(name.value).or_insert(circulator);
                }
            }
            "radiators" => {
                if let Some(radiators) = radiators(builder, entry) {
                    water
                        .radiators
                        .entry(radiators.name.clone())
                        .or_insert(radiators);
                }
            }
            _ => {}
        }
    }
    water.loops = loops(&water);
    builder.model.water = water;
}
