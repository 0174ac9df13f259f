//! Hot-water pipes walked leg by leg, in the way the water goes.

use crate::language::Entry;
use crate::quantity::{Length, show_length, trade_length};
use crate::source::{Finding, Relation, Span, Spanned};

use super::builder::Builder;
use super::mistakes::TAPED_UNDER_LEGS;
use super::place::Direction;

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

pub(super) fn pipe(builder: &mut Builder<'_>, entry: &Entry) -> Option<WaterPipe> {
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
                    (None, _) => builder.no_leg(child),
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
