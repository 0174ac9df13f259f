//! Runs and branches of a trunk in the order in which the air passes them, set into columns and rows.

use super::cut_tags::runs_of;
use super::source::PageSource;
use super::trunk_chart::{Band, band};
use crate::model::{FittingKind, Run, Trunk};
use crate::quantity::Length;

/// What stands at one place of a trunk.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Column<'m> {
    /// A run to the left of the air's way, or on top.
    pub(super) above: Option<&'m Run>,
    /// A run to the right.
    pub(super) below: Option<&'m Run>,
    /// A branch.
    pub(super) branch: Option<&'m str>,
}

/// A leg of a trunk, or the part of it that fits a row.
#[derive(Clone, Debug)]
pub(super) struct Stretch<'m> {
    /// Which leg, from zero.
    pub(super) leg: usize,
    /// Whether the leg begins here.
    pub(super) first: bool,
    /// What leaves it, in order.
    pub(super) columns: Vec<Column<'m>>,
    /// In points.
    pub(super) wide: f64,
}

/// The least width of a leg: room for its flow.
const LEAST: f64 = 62.0;

/// The leg that holds a station; the last takes what lies beyond it.
fn leg_of(trunk: &Trunk, station: Length) -> usize {
    let after = trunk
        .legs
        .iter()
        .position(|leg| station < leg.station + leg.length);
    after.unwrap_or(trunk.legs.len().saturating_sub(1))
}

/// A thing that leaves a trunk: where, on which side, what.
enum Leaves<'m> {
    Run(Length, bool, &'m Run),
    Branch(Length, &'m str),
}

impl Leaves<'_> {
    const fn station(&self) -> Length {
        match self {
            Self::Run(station, ..) | Self::Branch(station, _) => *station,
        }
    }
}

fn columns(leaving: Vec<Leaves<'_>>) -> Vec<Column<'_>> {
    let mut out: Vec<Column<'_>> = Vec::new();
    let mut last: Option<Length> = None;
    for thing in leaving {
        let here = thing.station();
        let same = last == Some(here);
        last = Some(here);
        match thing {
            Leaves::Branch(_, name) => out.push(Column {
                branch: Some(name),
                ..Column::default()
            }),
            Leaves::Run(_, above, run) => {
                let free = out.last_mut().filter(|column| {
                    let taken = if above { column.above } else { column.below };
                    same && taken.is_none() && column.branch.is_none()
                });
                let mut new = Column::default();
                let column = match free {
                    Some(column) => column,
                    None => &mut new,
                };
                if above {
                    column.above = Some(run);
                } else {
                    column.below = Some(run);
                }
                if new.above.is_some() || new.below.is_some() {
                    out.push(new);
                }
            }
        }
    }
    out
}

/// The rows of a trunk, none wider than `most` points with columns `apart` points from one another.
pub(super) fn rows_of<'m>(
    source: &PageSource<'m>,
    trunk: &'m Trunk,
    most: f64,
    apart: f64,
) -> Vec<Vec<Stretch<'m>>> {
    let mut legs: Vec<Vec<Leaves<'m>>> = trunk.legs.iter().map(|_| Vec::new()).collect();
    let mut put = |thing: Leaves<'m>| {
        if let Some(leg) = legs.get_mut(leg_of(trunk, thing.station())) {
            leg.push(thing);
        }
    };
    for run in runs_of(source, trunk) {
        if let Some(station) = run.station {
            let above = band(run, trunk) != Band::Right;
            put(Leaves::Run(station.value, above, run));
        }
    }
    for fitting in &trunk.fittings {
        if let FittingKind::Tee(name) = &fitting.kind {
            put(Leaves::Branch(fitting.station, name));
        }
    }
    let mut rows: Vec<Vec<Stretch<'m>>> = Vec::new();
    let mut left = 0.0;
    for (leg, mut leaving) in legs.into_iter().enumerate() {
        leaving.sort_by_key(Leaves::station);
        let mut columns = columns(leaving);
        let mut first = true;
        loop {
            let wanted = (apart * (columns.len() as f64 + 0.5)).max(LEAST);
            if wanted > left {
                let fits = (0..columns.len())
                    .take_while(|n| apart * (*n as f64 + 1.5) <= left)
                    .count();
                // A part of a leg shorter than its flow's words is no help.
                if fits < 5 {
                    if left < most {
                        rows.push(Vec::new());
                        left = most;
                        continue;
                    }
                } else {
                    let rest = columns.split_off(fits);
                    let wide = apart * (fits as f64 + 0.5);
                    push(
                        &mut rows,
                        Stretch {
                            leg,
                            first,
                            columns,
                            wide,
                        },
                    );
                    columns = rest;
                    first = false;
                    rows.push(Vec::new());
                    left = most;
                    continue;
                }
            }
            left -= wanted;
            let wide = wanted;
            push(
                &mut rows,
                Stretch {
                    leg,
                    first,
                    columns,
                    wide,
                },
            );
            break;
        }
    }
    rows
}

fn push<'m>(rows: &mut Vec<Vec<Stretch<'m>>>, stretch: Stretch<'m>) {
    match rows.last_mut() {
        Some(row) => row.push(stretch),
        None => rows.push(vec![stretch]),
    }
}
