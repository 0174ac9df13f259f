//! Trunks and branches: legs less what fittings take up, split into stock lengths so that no hole meets a joint.

use crate::catalog::{Section, TrunkPipe};
use crate::model::{Trunk, TrunkLeg};
use crate::quantity::{Length, trade_length};

use super::desk::{Desk, Draft};
use super::fastening::{TRUNK_JOINT_SCREWS, screws};
use super::figure;
use super::hole::{Hole, HoleKind};
use super::hole_place::holes_of;
use super::piece::System;
use super::stock::Shelf;
use super::trunk_fitting::around;
use super::trunk_node::{Node, nodes};

/// Shortest piece of trunk worth making (common practice).
const LEAST_PIECE: Length = Length::inches(6);

/// All trunks and branches.
pub(super) fn take_off(desk: &mut Desk<'_>) {
    let model = desk.model;
    for trunk in model.trunks.values() {
        let mut holes = holes_of(desk, trunk);
        one_trunk(desk, trunk, &mut holes);
        desk.holes.append(&mut holes);
    }
}

fn one_trunk(desk: &mut Desk<'_>, trunk: &Trunk, holes: &mut [Hole]) {
    let (system, kind) = if trunk.parent.is_some() {
        (System::Branch, "branch")
    } else {
        (System::Trunk, "trunk")
    };
    let route = format!("{kind} {}", trunk.name);
    let nodes = nodes(desk, trunk, &route);
    let mut last = None;
    for (start, end) in nodes.iter().zip(nodes.iter().skip(1)) {
        let leg = trunk
            .legs
            .iter()
            .find(|leg| leg.station <= start.station && end.station <= leg.station + leg.length);
        if let Some(leg) = leg {
            let before = last.take().filter(|_| start.plain);
            last = stretch(desk, trunk, leg, (system, before), (start, end), holes);
        }
    }
    for hole in holes.iter_mut() {
        if hole.piece.is_none()
            && hole.reason.is_none()
            && matches!(hole.kind, HoleKind::TakeOff(_))
        {
            hole.reason = Some("its piece is not known, or it falls on a fitting".to_owned());
        }
        figure::hole(desk, hole);
    }
}

/// Pipe between two nodes, behind the piece `before` where no fitting stands between; gives its last piece.
fn stretch(
    desk: &mut Desk<'_>,
    trunk: &Trunk,
    leg: &TrunkLeg,
    (system, before): (System, Option<String>),
    (start, end): (&Node, &Node),
    holes: &mut [Hole],
) -> Option<String> {
    let whole = end.station - start.station;
    let pipe = desk.trunk_pipe(leg);
    let story = trunk
        .unit
        .as_ref()
        .and_then(|unit| desk.model.air_handlers.get(unit))
        .map(|unit| unit.story.clone())
        .or_else(|| desk.story_at(leg.start.z));
    let item = leg
        .pipe
        .as_ref()
        .map_or_else(String::new, |pipe| pipe.value.clone());
    let said = format!("{} {}", leg.direction.word(), trade_length(leg.length));
    let draft = |length, formula: String, places, from: String, to: String| Draft {
        system,
        route: trunk.name.clone(),
        item: item.clone(),
        shelf: Shelf::TrunkPipe,
        length,
        formula,
        places,
        source: "geometry",
        from,
        to,
        room: None,
        story: story.clone(),
        span: leg.span,
        field_cut: leg.field_cut,
        removable: leg.removable,
        joints: 0,
    };
    let plan = stretch_plan(pipe, start, end, whole, holes);
    let cuts = match plan {
        Ok(cuts) => cuts,
        Err(reason) => {
            let formula = "leg less what fittings take up".to_owned();
            let draft = draft(
                Err(reason),
                formula,
                vec![(leg.span, said)],
                start.words.clone(),
                end.words.clone(),
            );
            desk.piece(draft);
            return None;
        }
    };
    let Cuts {
        stations,
        joint,
        section,
        pipe,
    } = cuts;
    let count = stations.len().saturating_sub(1);
    if count == 0 {
        return None;
    }
    let mut joints = count - 1;
    joints += usize::from(!start.plain) + usize::from(end.joined);
    desk.sealed += around(section) * i64::try_from(joints).unwrap_or(0);
    let place = (leg.span, said.clone());
    screws(
        desk,
        "trunk",
        joints * TRUNK_JOINT_SCREWS,
        "trunk joints",
        place,
    );
    let mut last = before;
    for (n, (from, to)) in stations.iter().zip(stations.iter().skip(1)).enumerate() {
        let is_last = n + 1 == count;
        let slip = if is_last && !end.joined {
            Length::ZERO
        } else {
            joint
        };
        let formula = format!(
            "from {} to {} along the {}, and {} for the joint{}{}",
            trade_length(*from),
            trade_length(*to),
            system.word(),
            trade_length(slip),
            if n == 0 {
                taken(start, &start.after, "before")
            } else {
                String::new()
            },
            if is_last {
                taken(end, &end.before, "behind")
            } else {
                String::new()
            },
        );
        let mut places = vec![
            (leg.span, said.clone()),
            (pipe.joint.span, format!("joint {}", trade_length(joint))),
            (
                pipe.stock.span,
                format!(
                    "stock {}",
                    trade_length(pipe.stock.get().unwrap_or_default())
                ),
            ),
        ];
        if n == 0 {
            places.extend(start.places.iter().cloned());
        }
        if is_last {
            places.extend(end.places.iter().cloned());
        }
        let before = last.take().unwrap_or_else(|| start.words.clone());
        let next = if is_last && !end.plain {
            end.words.clone()
        } else {
            desk.tag_after_next(system)
        };
        let tag = desk.piece(draft(Ok(*to - *from + slip), formula, places, before, next));
        for hole in holes.iter_mut() {
            if matches!(hole.kind, HoleKind::TakeOff(_))
                && *from <= hole.distance
                && (hole.distance < *to || is_last && hole.distance == *to)
            {
                hole.piece = Some(tag.clone());
                hole.in_piece = Some(hole.distance - *from);
                let radius = hole.diameter.unwrap_or_default().half();
                hole.on_joint = hole.distance - radius < *from + joint
                    || hole.distance + radius > *to && end.joined;
            }
        }
        last = Some(tag);
    }
    last
}

/// `; the adapter before it takes up 7 in`.
fn taken(node: &Node, length: &Result<Length, String>, place: &str) -> String {
    match length {
        Ok(length) if *length > Length::ZERO => format!(
            "; the {} {place} it takes up {}",
            node.words,
            trade_length(*length)
        ),
        _ => String::new(),
    }
}

struct Cuts<'c> {
    /// Where pieces start, by station, and where the last one ends.
    stations: Vec<Length>,
    joint: Length,
    section: Section,
    pipe: &'c TrunkPipe,
}

/// Where the pieces of a stretch start: full lengths first, a joint moved toward the unit when a hole would meet it.
fn stretch_plan<'c>(
    pipe: Result<(&str, &'c TrunkPipe), String>,
    start: &Node,
    end: &Node,
    whole: Length,
    holes: &[Hole],
) -> Result<Cuts<'c>, String> {
    let (name, pipe) = pipe?;
    let silent = |what: &str| format!("the catalog does not state the {what} of `{name}`");
    let stock = pipe.stock.get().ok_or_else(|| silent("stock length"))?;
    let joint = pipe.joint.get().ok_or_else(|| silent("joint"))?;
    let section = pipe.section.get().ok_or_else(|| silent("section"))?;
    let (before, after) = (start.after.clone()?, end.before.clone()?);
    let (first, last) = (start.station + before, end.station - after);
    if first > last {
        return Err(format!(
            "the fittings need {} where the leg has {}",
            trade_length(before + after),
            trade_length(whole)
        ));
    }
    if stock <= joint + LEAST_PIECE {
        return Err(format!("the stock of `{name}` is too short to join"));
    }
    let mut stations = vec![first];
    if first == last {
        return Ok(Cuts {
            stations,
            joint,
            section,
            pipe,
        });
    }
    let mut at = first;
    let reach = stock - joint;
    // The last piece loses no joint at an open end.
    let last_reach = if end.joined { reach } else { stock };
    while last - at > last_reach {
        let mut next = (at + reach).min(last - LEAST_PIECE);
        let furthest = next;
        while let Some(hole) = holes.iter().find(|hole| meets(hole, next, joint)) {
            next = hole.distance - hole.diameter.unwrap_or_default().half() - joint;
        }
        if next < at + LEAST_PIECE {
            // No place without a hole: the joint stays where it is longest, and the hole says so.
            next = furthest;
        }
        stations.push(next);
        at = next;
    }
    stations.push(last);
    Ok(Cuts {
        stations,
        joint,
        section,
        pipe,
    })
}

/// Whether a hole meets the overlap that starts at a station.
fn meets(hole: &Hole, station: Length, joint: Length) -> bool {
    let radius = hole.diameter.unwrap_or_default().half();
    matches!(hole.kind, HoleKind::TakeOff(_))
        && station < hole.distance + radius
        && hole.distance - radius < station + joint
}
