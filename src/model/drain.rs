//! Condensate drains walked leg by leg in true elevation, from the pan's port to their end.

use crate::language::Entry;
use crate::quantity::Length;
use crate::source::{Span, Spanned};

use super::builder::Builder;
use super::place::{Direction, Point};

/// A straight piece of drain.
#[derive(Clone, Debug)]
pub struct DrainLeg {
    /// Where its invert starts.
    pub start: Point,
    /// Where its invert ends.
    pub end: Point,
    /// Which way it goes.
    pub direction: Direction,
    /// Its length along the tape.
    pub length: Length,
    /// How much it falls from start to end (below zero: it rises), for level legs; none when not said.
    pub fall: Option<Spanned<Length>>,
    /// The pipe it is made of.
    pub pipe: Option<Spanned<String>>,
    /// Distance along the drain to its start.
    pub station: Length,
    /// The statement.
    pub span: Span,
}

/// The fitting in which a cleanout or another drain meets a drain.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Branch {
    /// `tee`, `sanitary-tee` or `wye`.
    pub fitting: Spanned<String>,
    /// `with` or `against` the flow, where it is said.
    pub facing: Option<Spanned<String>>,
}

impl Branch {
    fn read(builder: &mut Builder<'_>, child: &Entry) -> Option<Self> {
        Some(Self {
            fitting: child.text("fitting").known()?,
            facing: builder.text(child, "way"),
        })
    }

    /// Whether it turns the water back, or a cable put into it.
    pub fn against_flow(&self) -> bool {
        self.facing
            .as_ref()
            .is_some_and(|way| way.value == "against")
    }
}

/// What a drain has at a place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Mark {
    /// A trap: drop from the pan outlet to the weir, depth of the seal.
    Trap {
        /// Pan outlet above the weir.
        drop: Spanned<Length>,
        /// Dip below the weir.
        seal: Spanned<Length>,
    },
    /// A cleanout, and whether its plug is glued.
    Cleanout {
        /// The words of a glued plug.
        glued: Option<Span>,
        /// Its fitting, where one is named.
        branch: Option<Branch>,
    },
    /// An open vent, and its height above the pipe.
    Vent(Option<Length>),
    /// A float switch, by model.
    FloatSwitch(String),
    /// Another pipe from here on.
    Reduce(Spanned<String>),
    /// An elbow.
    Elbow,
}

/// A mark and where it stands.
#[derive(Clone, Debug)]
pub struct Happening {
    /// What.
    pub mark: Mark,
    /// Distance along the drain from the port.
    pub station: Length,
    /// Number of legs before it.
    pub after_legs: usize,
    /// Its place.
    pub point: Point,
    /// The statement.
    pub span: Span,
}

/// Where a drain ends, and how.
#[derive(Clone, Debug)]
pub struct Ending {
    /// The place named.
    pub to: Spanned<String>,
    /// `air gap`, `air break` or `solid joint`.
    pub how: Option<Spanned<String>>,
    /// The gap's height.
    pub distance: Option<Spanned<Length>>,
    /// The fitting by which it joins another drain.
    pub branch: Option<Branch>,
    /// The statement.
    pub span: Span,
}

/// A condensate drain.
#[derive(Clone, Debug)]
pub struct Drain {
    /// Its name.
    pub name: String,
    /// The unit it drains.
    pub unit: String,
    /// The pan under the unit, where it drains that and not the unit's own.
    pub pan: Option<String>,
    /// The port's name on the unit.
    pub port: Spanned<String>,
    /// The first pipe.
    pub pipe: Option<Spanned<String>>,
    /// Its cement.
    pub solvent: Option<Spanned<String>>,
    /// The invert at the port.
    pub start: Point,
    /// Its legs.
    pub legs: Vec<DrainLeg>,
    /// Traps, cleanouts and the like, in order.
    pub happenings: Vec<Happening>,
    /// Support spacing, where said.
    pub hangers: Option<Spanned<Length>>,
    /// What it is wrapped in.
    pub insulation: Option<Spanned<String>>,
    /// What keeps the water in its trap from freezing.
    pub freeze: Option<Spanned<String>>,
    /// Where somebody sees it run.
    pub seen: Option<Spanned<String>>,
    /// Stories and rooms that it is said to pass through.
    pub through: Vec<Spanned<String>>,
    /// Its end.
    pub ending: Option<Ending>,
    /// Whether an end is said to be open yet, or was misread.
    pub ending_open: bool,
    /// Its head.
    pub span: Span,
    /// Its whole block.
    pub whole: Span,
    /// Whether part of it was misread.
    pub flawed: bool,
}

impl Drain {
    /// The traps, in order.
    pub fn traps(&self) -> impl Iterator<Item = (&Happening, Spanned<Length>, Spanned<Length>)> {
        self.happenings
            .iter()
            .filter_map(|happening| match &happening.mark {
                Mark::Trap { drop, seal } => Some((happening, *drop, *seal)),
                _ => None,
            })
    }

    /// Where it ends.
    pub fn end(&self) -> Point {
        self.legs.last().map_or(self.start, |leg| leg.end)
    }

    /// The port's own name (`secondary-drain`); that of a pan is `pan`.
    pub fn port_name(&self) -> &str {
        match &self.pan {
            Some(_) => "pan",
            None => self.port.value.split_once('.').map_or("", |(_, port)| port),
        }
    }

    /// Whether it carries water only when something else has failed: from a secondary port or a pan.
    pub fn is_second_line(&self) -> bool {
        self.port_name() != "drain"
    }
}

/// Where the port of a drain stands, and whose it is: the unit, and the pan where it is a pan's.
fn source(
    builder: &mut Builder<'_>,
    entry: &Entry,
    port: &Spanned<String>,
) -> Option<(String, Option<String>, Point)> {
    let holder = port.value.split('.').next().unwrap_or_default();
    let Some(pan) = builder.model.pans.get(holder) else {
        let (unit, start) = builder.port(port)?;
        return Some((unit, None, start));
    };
    let toward = entry
        .body
        .iter()
        .find_map(|child| Direction::named(child.word.word))
        .unwrap_or(Direction::Down);
    let start = pan.outlet(toward)?;
    Some((pan.unit.value.clone(), Some(pan.name.clone()), start))
}

/// The words that say where water goes.
pub(super) fn ending(builder: &mut Builder<'_>, child: &Entry) -> Option<Ending> {
    let how = child.text("how").known().zip(child.text("gap").known());
    builder.text(child, "end").map(|to| Ending {
        to,
        how: how.map(|(a, b)| Spanned::new(format!("{} {}", a.value, b.value), a.span.to(b.span))),
        distance: builder.length(child, "distance"),
        branch: Branch::read(builder, child),
        span: child.span,
    })
}

pub(super) fn drain(builder: &mut Builder<'_>, entry: &Entry) {
    let Some(name) = entry.text("name").known() else {
        return;
    };
    if !builder.enter("drain", &name) {
        return;
    }
    let Some(port) = entry.text("port").known() else {
        return;
    };
    let Some((unit, pan, start)) = source(builder, entry, &port) else {
        return;
    };
    let said = |builder: &mut Builder<'_>, word: &str, slot: &str| {
        entry.child(word).and_then(|c| builder.text(c, slot))
    };
    let mut drain = Drain {
        name: name.value,
        unit,
        pan,
        port,
        pipe: None,
        solvent: entry
            .child("solvent")
            .and_then(|c| builder.text(c, "solvent")),
        start,
        legs: Vec::new(),
        happenings: Vec::new(),
        hangers: entry
            .child("hanger")
            .and_then(|c| builder.size(c, "spacing")),
        insulation: said(builder, "insulation", "insulation"),
        freeze: said(builder, "freeze-protection", "how"),
        seen: said(builder, "seen", "place"),
        through: entry
            .children("through")
            .filter_map(|child| child.text("space").known())
            .collect(),
        ending: None,
        ending_open: false,
        span: entry.span,
        whole: entry.whole,
        flawed: entry.flawed || entry.body_flawed,
    };
    let mut pipe: Option<Spanned<String>> = None;
    let (mut at, mut station) = (start, Length::ZERO);
    for child in &entry.body {
        if let Some(direction) = Direction::named(child.word.word) {
            let Some(length) = builder.size(child, "run") else {
                drain.flawed = true;
                // What lies beyond a leg of unknown length has no place yet; its end is still said.
                drain.ending_open |= entry.child("discharge").is_some();
                break;
            };
            let end = at.toward(direction, length.value);
            drain.legs.push(DrainLeg {
                start: at,
                end,
                direction,
                length: length.value,
                fall: None,
                pipe: pipe.clone(),
                station,
                span: child.span,
            });
            at = end;
            station += length.value;
            continue;
        }
        let mark = match child.word.word {
            "pipe" => {
                pipe = builder.text(child, "pipe");
                drain.pipe.clone_from(&pipe);
                None
            }
            "fall" | "rise" => {
                let slot = if child.word.word == "fall" {
                    "fall"
                } else {
                    "rise"
                };
                let Some(leg) = drain.legs.last_mut() else {
                    builder.no_leg(child);
                    continue;
                };
                let Some(amount) = builder.length(child, slot) else {
                    drain.flawed = true;
                    continue;
                };
                let fall = if slot == "fall" {
                    amount.value
                } else {
                    -amount.value
                };
                leg.fall = Some(Spanned::new(fall, child.span));
                leg.end.z -= fall;
                at = leg.end;
                None
            }
            "trap" => match (builder.length(child, "drop"), builder.length(child, "seal")) {
                (Some(drop), Some(seal)) => {
                    // Behind the trap the invert stands at the weir.
                    at.z = start.z - drop.value;
                    Some(Mark::Trap { drop, seal })
                }
                _ => {
                    drain.flawed = true;
                    None
                }
            },
            "cleanout" => {
                let glued = child
                    .text("plug")
                    .known()
                    .filter(|plug| plug.value == "glued")
                    .map(|plug| plug.span);
                let branch = Branch::read(builder, child);
                Some(Mark::Cleanout { glued, branch })
            }
            "vent" => Some(Mark::Vent(
                builder.length(child, "height").map(|height| height.value),
            )),
            "float-switch" => builder
                .text(child, "model")
                .map(|model| Mark::FloatSwitch(model.value)),
            "reduce" => {
                pipe = builder.text(child, "pipe");
                pipe.clone().map(Mark::Reduce)
            }
            "elbow" => Some(Mark::Elbow),
            "discharge" => {
                drain.ending = ending(builder, child);
                drain.ending_open |= drain.ending.is_none();
                None
            }
            _ => None,
        };
        if let Some(mark) = mark {
            let after_legs = drain.legs.len();
            drain.happenings.push(Happening {
                mark,
                station,
                after_legs,
                point: at,
                span: child.span,
            });
        }
    }
    builder.model.drains.insert(drain.name.clone(), drain);
}
