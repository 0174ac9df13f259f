//! Trunks and branches walked leg by leg, and runs from them to outlets.

use crate::language::Entry;
use crate::quantity::{Length, length_text, show_length, trade_length};
use crate::source::{Finding, Relation, Span, Spanned};

use super::build::Builder;
use super::mistakes::{BEYOND_TRUNK, LEG_MISSING, MEASURED_SHORT, NAME_UNKNOWN, WITHOUT_RUN};
use super::names::is_meant_for_second;
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

/// What sits on a trunk at a station.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FittingKind {
    /// The unit's face.
    Unit,
    /// The tee that a branch starts at.
    Start,
    /// A tee, by the branch's name.
    Tee(String),
    /// An elbow, or a change of direction.
    Elbow,
    /// The end cap.
    Cap,
    /// An end without a cap.
    End,
}

impl FittingKind {
    /// Its name in reports.
    pub fn words(&self) -> String {
        match self {
            Self::Unit => "the unit's face".to_owned(),
            Self::Start => "the tee that the branch starts at".to_owned(),
            Self::Tee(name) => format!("tee `{name}`"),
            Self::Elbow => "the elbow".to_owned(),
            Self::Cap => "the end cap".to_owned(),
            Self::End => "the end of the trunk".to_owned(),
        }
    }
}

/// A fitting on a trunk.
#[derive(Clone, Debug)]
pub struct Fitting {
    /// What it is.
    pub kind: FittingKind,
    /// Where, along the trunk.
    pub station: Length,
    /// The words that put it there.
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

/// A tube from a trunk to an outlet.
#[derive(Clone, Debug)]
pub struct Run {
    /// Its name.
    pub name: String,
    /// The outlet it feeds.
    pub outlet: Option<String>,
    /// The trunk it leaves.
    pub trunk: Spanned<String>,
    /// Where on the trunk.
    pub station: Option<Spanned<Length>>,
    /// On which side.
    pub side: Option<Spanned<String>>,
    /// The point where it leaves the trunk.
    pub take_off: Option<Point>,
    /// The tube.
    pub tube: Option<Spanned<String>>,
    /// Its taped length.
    pub measured: Option<Spanned<Length>>,
    /// Bends.
    pub bends: Option<Spanned<f64>>,
    /// Spaces it passes through.
    pub through: Vec<Spanned<String>>,
    /// Its balancing orifice.
    pub orifice: Option<Spanned<String>>,
    /// The straight distance from take-off to outlet.
    pub straight: Option<Length>,
    /// Its head.
    pub span: Span,
    /// Its whole block.
    pub whole: Span,
    /// Whether part of it was misread or is not known yet.
    pub flawed: bool,
}

impl Run {
    /// Its length: as taped, else none.
    pub fn length(&self) -> Option<Length> {
        self.measured.as_ref().map(|measured| measured.value)
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
                None => no_leg(builder, child),
            },
            "elbow" if trunk.legs.is_empty() => no_leg(builder, child),
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

pub(super) fn no_leg(builder: &mut Builder<'_>, entry: &Entry) {
    builder.report(Finding::new(
        &LEG_MISSING,
        entry.span,
        format!(
            "`{}` belongs to the leg before it, and there is none",
            entry.word.word
        ),
        "put a leg such as `east 3 ft` before it",
    ));
}

pub(super) fn run(builder: &mut Builder<'_>, entry: &Entry) {
    let Some(name) = entry.text("name").known() else {
        return;
    };
    if !builder.enter("run", &name) {
        return;
    }
    let Some(trunk_name) = entry.text("trunk").known() else {
        return;
    };
    let trunk_known = builder.expect(&["trunk"], &trunk_name);
    let named = entry
        .child("to")
        .and_then(|c| c.text("outlet").known())
        .unwrap_or_else(|| name.clone());
    let outlet_known = builder.names.has(&["outlet"], &named.value);
    if !outlet_known && !is_meant_for_second(&["outlet"], &named.value, builder.findings) {
        let near = builder
            .names
            .nearest(&["outlet"], &named.value)
            .map(str::to_owned);
        let mut finding = Finding::new(
            &NAME_UNKNOWN,
            named.span,
            format!(
                "run `{}` feeds an outlet `{}` that no room has",
                name.value, named.value
            ),
            near.as_ref().map_or_else(
                || {
                    format!(
                        "add an outlet `{}` to a room, or say `to` and the outlet's name",
                        named.value
                    )
                },
                |near| format!("write `{near}`"),
            ),
        );
        if let Some(near) = near {
            finding = finding.edit(named.span, near);
        }
        builder.report(finding);
    }
    let mut run = Run {
        name: name.value,
        outlet: outlet_known.then_some(named.value),
        trunk: trunk_name,
        station: builder.length(entry, "station"),
        side: entry.text("side").known(),
        take_off: None,
        tube: entry.child("tube").and_then(|c| builder.text(c, "tube")),
        measured: entry
            .child("measured")
            .and_then(|c| builder.size(c, "length")),
        bends: entry.child("bends").and_then(|c| builder.real(c, "bends")),
        through: entry
            .children("through")
            .filter_map(|c| c.text("space").known())
            .collect(),
        orifice: entry
            .child("orifice")
            .and_then(|c| builder.text(c, "orifice")),
        straight: None,
        span: entry.span,
        whole: entry.whole,
        flawed: entry.flawed || entry.body_flawed || !trunk_known || !outlet_known,
    };
    let spaces = run.through.clone();
    for space in &spaces {
        builder.expect(&["story", "room"], space);
    }
    if builder.beyond.contains(&run.trunk.value) {
        run.flawed = true;
    } else if let (Some(station), Some(trunk)) =
        (run.station, builder.model.trunks.get(&run.trunk.value))
    {
        run.take_off = trunk.point_at(station.value);
        let long = trunk.length();
        if run.take_off.is_none() && !trunk.flawed {
            let finding = Finding::new(
                &BEYOND_TRUNK,
                station.span,
                format!(
                    "run `{}` leaves trunk `{}` beyond its end",
                    run.name, trunk.name
                ),
                format!("take off at `{}` or nearer the unit", length_text(long)),
            )
            .measured(
                show_length(station.value),
                Relation::AtMost,
                show_length(long),
            )
            .label(
                trunk.span,
                format!("the trunk is {} long", trade_length(long)),
            );
            builder.report(finding);
            run.flawed = true;
        }
    }
    let outlet = run
        .outlet
        .as_ref()
        .and_then(|name| builder.model.house.outlet(name));
    if let (Some(from), Some(outlet)) = (run.take_off, outlet) {
        let straight = from.distance(outlet.point);
        run.straight = Some(straight);
        if let Some(measured) = &run.measured
            && measured.value < straight
        {
            let up = straight.round_up_to(Length::INCH);
            let finding = Finding::new(
                &MEASURED_SHORT,
                measured.span,
                format!(
                    "run `{}` is shorter than the straight way to its outlet",
                    run.name
                ),
                format!(
                    "measure again: at least `{}`, or correct where it starts or ends",
                    trade_length(up)
                ),
            )
            .measured(
                show_length(measured.value),
                Relation::AtLeast,
                show_length(straight),
            )
            .label(outlet.at, "its outlet")
            .label(run.span, "its take-off");
            builder.report(finding);
            run.flawed = true;
        }
    }
    builder.model.runs.insert(run.name.clone(), run);
}

/// Every outlet has a run, once all runs are known.
pub(super) fn settle(builder: &mut Builder<'_>) {
    let fed: Vec<&str> = builder
        .model
        .runs
        .values()
        .filter_map(|run| run.outlet.as_deref())
        .collect();
    let misread = builder.misread("run");
    let findings: Vec<Finding> = builder
        .model
        .house
        .outlets()
        .filter(|outlet| !fed.contains(&outlet.name.as_str()) && !misread)
        .map(|outlet| {
            Finding::new(
                &WITHOUT_RUN,
                outlet.span,
                format!("no run feeds outlet `{}`", outlet.name),
                format!(
                    "add `run {} from … at … {{ tube \"…\", measured … }}`",
                    outlet.name
                ),
            )
        })
        .collect();
    for finding in findings {
        builder.report(finding);
    }
}
