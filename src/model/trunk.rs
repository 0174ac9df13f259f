//! Trunks and their branches walked leg by leg, from the unit's face or from a tee.

use crate::language::Entry;
use crate::quantity::{Length, length_text, show_length};
use crate::source::{Finding, Relation, Span, Spanned};

use super::builder::Builder;
use super::fitting::{Fitting, FittingKind};
use super::mistakes::BEYOND_TRUNK;
use super::place::{Direction, Point};

/// A straight piece of trunk.
#[derive(Clone, Debug)]
pub struct TrunkLeg {
    /// Where it starts.
    pub start: Point,
    /// Where it ends.
    pub end: Point,
    /// Which way it goes.
    pub direction: Direction,
    /// Its length.
    pub length: Length,
    /// Distance of its start along the trunk's middle from the unit's face, or from the tee for a branch.
    pub station: Length,
    /// The pipe it is made of.
    pub pipe: Option<Spanned<String>>,
    /// Whether it can be taken out without cutting.
    pub removable: bool,
    /// Whether it takes up what the others leave.
    pub field_cut: bool,
    /// The statement.
    pub span: Span,
}

/// A trunk or branch.
#[derive(Clone, Debug)]
pub struct Trunk {
    /// Its name.
    pub name: String,
    /// The unit whose supply port the trunk starts at, itself or through its parents.
    pub unit: Option<String>,
    /// The trunk that a branch leaves, and where.
    pub parent: Option<(String, Length)>,
    /// The adapter at the unit.
    pub adapter: Option<Spanned<String>>,
    /// Where it starts.
    pub start: Point,
    /// Its legs in order.
    pub legs: Vec<TrunkLeg>,
    /// What sits on it, by station.
    pub fittings: Vec<Fitting>,
    /// Its head.
    pub span: Span,
    /// Its whole block.
    pub whole: Span,
    /// Whether part of it was misread.
    pub flawed: bool,
    /// Whether it lies where it cannot be, which is reported: nothing is to be measured against it.
    pub misplaced: bool,
}

impl Trunk {
    /// Its length along the middle.
    pub fn length(&self) -> Length {
        self.legs.iter().map(|leg| leg.length).sum()
    }

    /// The leg at a station.
    pub fn leg_at(&self, station: Length) -> Option<&TrunkLeg> {
        self.legs
            .iter()
            .find(|leg| leg.station <= station && station <= leg.station + leg.length)
    }

    /// The point of the middle line at a station.
    pub fn point_at(&self, station: Length) -> Option<Point> {
        self.leg_at(station)
            .map(|leg| leg.start.toward(leg.direction, station - leg.station))
    }
}

struct Walk {
    name: String,
    unit: Option<String>,
    parent: Option<(String, Length)>,
    start: Point,
    first: Fitting,
    pipe: Option<Spanned<String>>,
}

pub(super) fn trunk(builder: &mut Builder<'_>, entry: &Entry) {
    let Some(name) = entry.text("name").known() else {
        return;
    };
    if !builder.enter("trunk", &name) {
        return;
    }
    let Some(port) = entry.text("port").known() else {
        return;
    };
    let Some((unit, port)) = builder.port(&port) else {
        builder.half_known("trunk", &name.value);
        branches_half_known(builder, &entry.body);
        return;
    };
    let walk = Walk {
        name: name.value,
        unit: Some(unit),
        parent: None,
        start: port,
        first: Fitting {
            kind: FittingKind::Unit,
            station: Length::ZERO,
            span: entry.span,
        },
        pipe: None,
    };
    walk_trunk(builder, entry, walk);
}

/// Branches of a trunk whose place is not known: what refers to them stays silent.
fn branches_half_known(builder: &mut Builder<'_>, body: &[Entry]) {
    for child in body {
        if matches!(child.word.word, "tee" | "branch")
            && let Some(name) = child.text("name").known()
        {
            builder.enter("trunk", &name);
            builder.half_known("trunk", &name.value);
            branches_half_known(builder, &child.body);
        }
    }
}

fn walk_trunk(builder: &mut Builder<'_>, entry: &Entry, walk: Walk) {
    let mut trunk = Trunk {
        name: walk.name,
        unit: walk.unit,
        parent: walk.parent,
        adapter: entry
            .child("adapter")
            .and_then(|c| builder.text(c, "adapter")),
        start: walk.start,
        legs: Vec::new(),
        fittings: vec![walk.first],
        span: entry.span,
        whole: entry.whole,
        flawed: entry.flawed || entry.body_flawed,
        misplaced: false,
    };
    let mut pipe = walk.pipe;
    let mut at = walk.start;
    let mut station = Length::ZERO;
    let mut capped = false;
    let mut branches: Vec<(&Entry, Length)> = Vec::new();
    for (n, child) in entry.body.iter().enumerate() {
        if let Some(direction) = Direction::named(child.word.word) {
            let Some(length) = builder.size(child, "run") else {
                trunk.flawed = true;
                // What lies beyond a leg of unknown length has no place yet.
                branches_half_known(builder, entry.body.get(n..).unwrap_or(&[]));
                break;
            };
            let turned = trunk
                .legs
                .last()
                .is_some_and(|leg| leg.direction != direction);
            let bent = trunk
                .fittings
                .last()
                .is_some_and(|f| f.kind == FittingKind::Elbow && f.station == station);
            if turned && !bent {
                trunk.fittings.push(Fitting {
                    kind: FittingKind::Elbow,
                    station,
                    span: child.word_span,
                });
            }
            let end = at.toward(direction, length.value);
            trunk.legs.push(TrunkLeg {
                start: at,
                end,
                direction,
                length: length.value,
                station,
                pipe: pipe.clone(),
                removable: false,
                field_cut: false,
                span: child.span,
            });
            at = end;
            station += length.value;
            continue;
        }
        match child.word.word {
            "pipe" => pipe = builder.text(child, "pipe"),
            "removable" | "field-cut" => match trunk.legs.last_mut() {
                Some(leg) if child.word.word == "removable" => leg.removable = true,
                Some(leg) => leg.field_cut = true,
                None => builder.no_leg(child),
            },
            "elbow" if trunk.legs.is_empty() => builder.no_leg(child),
            "elbow" => trunk.fittings.push(Fitting {
                kind: FittingKind::Elbow,
                station,
                span: child.span,
            }),
            "cap" => {
                capped = true;
                trunk.fittings.push(Fitting {
                    kind: FittingKind::Cap,
                    station,
                    span: child.span,
                });
            }
            "tee" => branches.push((child, station)),
            "branch" => {
                if let Some(at) = builder.length(child, "station") {
                    branches.push((child, at.value));
                }
            }
            _ => {}
        }
    }
    if !capped && !trunk.flawed {
        trunk.fittings.push(Fitting {
            kind: FittingKind::End,
            station,
            span: trunk.span,
        });
    }
    for (child, at) in &branches {
        if let Some(name) = child.text("name").known() {
            trunk.fittings.push(Fitting {
                kind: FittingKind::Tee(name.value),
                station: *at,
                span: child.span,
            });
        }
    }
    trunk.fittings.sort_by_key(|fitting| fitting.station);
    let (name, unit, whole_flawed) = (trunk.name.clone(), trunk.unit.clone(), trunk.flawed);
    let points: Vec<(&Entry, Length, Option<Point>)> = branches
        .into_iter()
        .map(|(child, station)| {
            (
                child,
                station,
                trunk
                    .point_at(station)
                    .or((station == Length::ZERO).then_some(at)),
            )
        })
        .collect();
    let long = trunk.length();
    builder.model.trunks.insert(name.clone(), trunk);
    for (child, station, point) in points {
        let Some(branch) = child.text("name").known() else {
            continue;
        };
        if !builder.enter("trunk", &branch) {
            continue;
        }
        let Some(start) = point else {
            if !whole_flawed {
                builder.report(
                    Finding::new(
                        &BEYOND_TRUNK,
                        child.span,
                        format!(
                            "branch `{}` leaves trunk `{name}` beyond its end",
                            branch.value
                        ),
                        format!("give a distance of at most `{}`", length_text(long)),
                    )
                    .measured(
                        show_length(station),
                        Relation::AtMost,
                        show_length(long),
                    ),
                );
            }
            builder.half_known("trunk", &branch.value);
            branches_half_known(builder, &child.body);
            continue;
        };
        let walk = Walk {
            name: branch.value,
            unit: unit.clone(),
            parent: Some((name.clone(), station)),
            start,
            first: Fitting {
                kind: FittingKind::Start,
                station: Length::ZERO,
                span: child.span,
            },
            pipe: pipe.clone(),
        };
        walk_trunk(builder, child, walk);
    }
}
