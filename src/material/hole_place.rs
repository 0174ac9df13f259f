//! Where take-offs and tees stand on a trunk, with the hole that each tube's take-off asks for.

use crate::model::{FittingKind, Trunk};
use crate::quantity::Length;

use super::desk::Desk;
use super::hole::{Hole, HoleKind};
use super::piece::System;

/// Take-offs and tees of a trunk by distance, their pieces not known yet.
pub(super) fn holes_of(desk: &Desk<'_>, trunk: &Trunk) -> Vec<Hole> {
    let base = from_unit(desk, trunk);
    let mut holes = Vec::new();
    for (n, run) in desk.model.runs.values().enumerate() {
        let Some(station) = run.station.filter(|_| run.trunk.value == trunk.name) else {
            continue;
        };
        let tube = run
            .tube
            .as_ref()
            .and_then(|t| desk.catalog.tubes.get(&t.value));
        let (diameter, reason) = match tube.and_then(|tube| tube.inside.get()) {
            Some(inside) => match super::tube::take_off_for(desk, inside) {
                Ok((name, take_off)) => match take_off.hole.get() {
                    Some(hole) => (Some(hole), None),
                    None => (
                        None,
                        Some(format!("the catalog does not state the hole of `{name}`")),
                    ),
                },
                Err(reason) => (None, Some(reason)),
            },
            None => (None, Some("the tube is not in the catalog".to_owned())),
        };
        holes.push(Hole {
            tag: format!("{}-{:02}", System::Run.letter(), n + 1),
            kind: HoleKind::TakeOff(run.name.clone()),
            trunk: trunk.name.clone(),
            piece: None,
            distance: station.value,
            from_unit: base.map(|base| base + station.value),
            in_piece: None,
            diameter,
            side: run
                .side
                .as_ref()
                .map_or_else(String::new, |side| side.value.clone()),
            on_joint: false,
            reason,
            span: station.span,
        });
    }
    for fitting in &trunk.fittings {
        let FittingKind::Tee(name) = &fitting.kind else {
            continue;
        };
        let side = desk
            .model
            .trunks
            .get(name)
            .and_then(|branch| branch.legs.first())
            .map_or_else(String::new, |leg| leg.direction.word().to_owned());
        holes.push(Hole {
            tag: name.clone(),
            kind: HoleKind::Tee(name.clone()),
            trunk: trunk.name.clone(),
            piece: None,
            distance: fitting.station,
            from_unit: base.map(|base| base + fitting.station),
            in_piece: None,
            diameter: None,
            side,
            on_joint: false,
            reason: None,
            span: fitting.span,
        });
    }
    holes.sort_by_key(|hole| hole.distance);
    holes
}

/// Distance of a trunk's start from the unit's face along the trunks before it.
fn from_unit(desk: &Desk<'_>, trunk: &Trunk) -> Option<Length> {
    let mut sum = Length::ZERO;
    let mut parent = trunk.parent.as_ref();
    // A branch stands after its trunk, so there are no circles; the count is a belt.
    for _ in 0..64 {
        let Some((name, station)) = parent else {
            return Some(sum);
        };
        sum += *station;
        parent = desk.model.trunks.get(name)?.parent.as_ref();
    }
    None
}
