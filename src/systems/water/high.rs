//! High points of a loop, where air gathers, and whether a vent stands there.

use crate::catalog::Catalog;
use crate::model::{Model, WaterLoop, WaterMark, WaterPart};
use crate::quantity::Length;
use crate::source::Span;

use super::place::ports;

/// A stretch of a loop that lies higher than what comes before and behind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HighPoint {
    /// The words of what reaches it.
    pub span: Span,
    /// The coil there, where it is one.
    pub coil: Option<String>,
    /// The pipe that rises to it.
    pub pipe: Option<String>,
    /// Whether a vent stands there.
    pub vented: bool,
}

/// A place on the way of the water.
struct Node {
    /// Height over the start of its piece of the way.
    z: Length,
    vent: bool,
    span: Span,
    coil: Option<String>,
    pipe: Option<String>,
}

/// Pieces of a way whose heights are known against one another; a pipe without legs ends one.
fn pieces(model: &Model, catalog: &Catalog, way: &[&WaterPart]) -> Vec<Vec<Node>> {
    let mut out: Vec<Vec<Node>> = vec![Vec::new()];
    let mut z = Length::ZERO;
    for part in way {
        match part {
            WaterPart::Pipe(name) => {
                let Some(pipe) = model.water.pipes.get(name) else {
                    continue;
                };
                let vent_at = |node: usize| {
                    pipe.marks
                        .iter()
                        .any(|(mark, at, _)| *mark == WaterMark::Vent && *at == node)
                };
                let node = |z: Length, vent: bool, span: Span| Node {
                    z,
                    vent,
                    span,
                    coil: None,
                    pipe: Some(name.clone()),
                };
                let known = pipe.climb().is_some();
                let vented = pipe.count(WaterMark::Vent) > 0;
                if let Some(piece) = out.last_mut() {
                    match piece.last_mut() {
                        Some(last) => last.vent |= if known { vent_at(0) } else { vented },
                        None => piece.push(node(z, vent_at(0) || (!known && vented), pipe.span)),
                    }
                    for (n, leg) in pipe.legs.iter().enumerate().filter(|_| known) {
                        z += leg.climb;
                        piece.push(node(z, vent_at(n + 1), leg.span));
                    }
                }
                if !known {
                    z = Length::ZERO;
                    out.push(vec![node(z, vented, pipe.span)]);
                }
            }
            WaterPart::Coil { name, backward } => {
                let Some(coil) = model.water.coils.get(name) else {
                    continue;
                };
                let sheet = coil
                    .model
                    .as_ref()
                    .and_then(|named| catalog.water_coils.get(&named.value));
                let own = sheet.is_some_and(|sheet| sheet.vent.get() == Some(true));
                let rise = ports(model, catalog, name)
                    .map_or(Length::ZERO, |(supply, back)| back - supply);
                let climb = if *backward { -rise } else { rise };
                if let Some(piece) = out.last_mut() {
                    if let Some(last) = piece.last_mut() {
                        last.coil = Some(name.clone());
                        last.vent |= own && climb <= Length::ZERO;
                    }
                    z += climb;
                    piece.push(Node {
                        z,
                        vent: own && climb >= Length::ZERO,
                        span: coil.span,
                        coil: Some(name.clone()),
                        pipe: None,
                    });
                }
            }
            WaterPart::Fork(_) => {}
        }
    }
    out
}

/// The stretches of a piece that lie higher than both neighbours. Its ends count as high only at a coil that stands
/// above the boiler, since what joins there is not drawn.
fn of_piece(
    piece: &[Node],
    (first, last): (bool, bool),
    above: &dyn Fn(&str) -> bool,
) -> Vec<HighPoint> {
    let mut out = Vec::new();
    let mut start = 0;
    while start < piece.len() {
        let Some(here) = piece.get(start) else { break };
        let level = piece
            .iter()
            .skip(start)
            .take_while(|node| node.z == here.z)
            .count();
        let stretch: Vec<&Node> = piece.iter().skip(start).take(level).collect();
        let coil = stretch.iter().find_map(|node| node.coil.clone());
        let raised = coil.as_deref().is_some_and(above);
        let lower = |node: Option<&Node>, outer: bool| match node {
            Some(node) => node.z < here.z,
            // At the boiler itself the air leaves with its own vent.
            None => !outer && raised,
        };
        let before = start.checked_sub(1).and_then(|n| piece.get(n));
        let after = piece.get(start + level);
        if lower(before, first) && lower(after, last) {
            let told = stretch
                .iter()
                .find(|node| node.coil.is_some())
                .or(stretch.first());
            if let Some(told) = told {
                out.push(HighPoint {
                    span: told.span,
                    pipe: stretch.iter().find_map(|node| node.pipe.clone()),
                    vented: stretch.iter().any(|node| node.vent),
                    coil,
                });
            }
        }
        start += level;
    }
    out
}

/// The high points of a loop, each once.
pub fn high_points(model: &Model, catalog: &Catalog, water: &WaterLoop) -> Vec<HighPoint> {
    let base = model
        .equipment
        .get(&water.boiler)
        .and_then(|boiler| boiler.point)
        .map(|point| point.z);
    let above = |coil: &str| {
        let ports = ports(model, catalog, coil);
        base.zip(ports)
            .is_none_or(|(base, (supply, _))| supply > base)
    };
    let mut out: Vec<HighPoint> = Vec::new();
    for way in water.ways() {
        let pieces = pieces(model, catalog, &way);
        let count = pieces.len();
        for (n, piece) in pieces.iter().enumerate() {
            for point in of_piece(piece, (n == 0, n + 1 == count), &above) {
                match out.iter_mut().find(|other| other.span == point.span) {
                    Some(same) => same.vented &= point.vented,
                    None => out.push(point),
                }
            }
        }
    }
    out
}
