//! Figures of holes, counts and offcuts.

use crate::figures::Figure;
use crate::quantity::trade_length;

use super::desk::Desk;
use super::hole::{Hole, HoleKind};
use super::need::Need;

/// Enters the distances and the diameter of a hole.
pub(super) fn hole(desk: &mut Desk<'_>, hole: &Hole) {
    let said = match &hole.kind {
        HoleKind::TakeOff(_) => format!("at {}", trade_length(hole.distance)),
        HoleKind::Tee(name) => format!("tee {name}"),
    };
    let along = match desk.model.trunks.get(&hole.trunk) {
        Some(trunk) if trunk.parent.is_some() => {
            "distance along the branch's middle from the tee it starts at"
        }
        _ => "distance along the trunk's middle from the unit's face",
    };
    desk.figures.push(
        Figure::length(hole.distance_figure(), hole.distance)
            .formula(along)
            .place(hole.span, said),
    );
    if let Some(distance) = hole.from_unit {
        desk.figures.push(
            Figure::length(hole.from_unit_figure(), distance)
                .formula("distance along the trunks' middle from the unit's face")
                .input(hole.distance_figure()),
        );
    }
    if let (Some(distance), Some(piece)) = (hole.in_piece, &hole.piece) {
        desk.figures.push(
            Figure::bool(hole.on_joint_figure(), hole.on_joint)
                .formula("whether the hole meets the overlap of two pieces or of a fitting")
                .input(hole.distance_figure())
                .input(format!("piece.{}.length", piece.to_ascii_lowercase())),
        );
        desk.figures.push(
            Figure::length(hole.in_piece_figure(), distance)
                .formula(format!(
                    "distance from the end of {piece} that looks to the unit"
                ))
                .input(hole.distance_figure())
                .input(format!("piece.{}.length", piece.to_ascii_lowercase())),
        );
    }
    if let Some(diameter) = hole.diameter {
        let tube = match &hole.kind {
            HoleKind::TakeOff(run) => desk.model.runs.get(run).and_then(|run| run.tube.clone()),
            HoleKind::Tee(_) => None,
        };
        let mut figure = Figure::length(hole.diameter_figure(), diameter)
            .formula("hole of the take-off that fits the tube")
            .source("catalog");
        if let Some(tube) = tube {
            figure = figure.place(tube.span, tube.value.clone());
            let inside = desk
                .catalog
                .tubes
                .get(&tube.value)
                .and_then(|t| t.inside.get());
            if let Some((name, take_off)) =
                inside.and_then(|inside| super::tube::take_off_for(desk, inside).ok())
            {
                figure = figure.place(
                    take_off.hole.span,
                    format!("{name}: hole {}", trade_length(diameter)),
                );
            }
        }
        desk.figures.push(figure);
    }
}

/// The count and the ordered quantity of a need.
pub(super) fn need(need: &Need) -> Vec<Figure> {
    let mut figures = Vec::new();
    let (Some(count), Some(quantity)) = (need.count, need.quantity()) else {
        return figures;
    };
    let counted = Figure::count(need.count_figure(), count)
        .formula(format!("how many {} are used", need.item))
        .source("counted from the routes");
    let counted = need.places.iter().fold(counted, |figure, (span, text)| {
        figure.place(*span, text.clone())
    });
    figures.push(counted);
    let mut ordered = Figure::count(need.quantity_figure(), quantity)
        .formula(if need.on_hand > 0 {
            "what is used less what lies on hand, in whole units of the order"
        } else {
            "what is used, in whole units of the order"
        })
        .source("counted from the routes")
        .input(need.count_figure());
    if let Some(span) = need.catalog {
        ordered = ordered.place(span, need.item.clone());
    }
    figures.push(ordered);
    figures
}
