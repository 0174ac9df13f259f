//! Finds a place for each label that has a leader: the nearest one that covers nothing.
//!
//! Labels are set in the order in which they were asked for, each at the cheapest of a fixed list of
//! places, so the same drawing always comes out the same.

use super::drawing::{Element, Leader, Scene};
use super::shape::{Anchor, Area, Point};
use crate::packet::font::text_width;
use crate::packet::text::Words;

/// A label that has found its place.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Placed {
    /// Around the words.
    pub area: Area,
    /// Where the line leaves the label.
    pub from: Point,
}

/// Directions in the order in which they are liked: right, left, up, down, then between.
const DIRECTIONS: [(f64, f64); 12] = [
    (1.0, -0.5),
    (-1.0, -0.5),
    (1.0, 0.5),
    (-1.0, 0.5),
    (0.35, -1.0),
    (-0.35, -1.0),
    (0.35, 1.0),
    (-0.35, 1.0),
    (1.0, 0.0),
    (-1.0, 0.0),
    (0.0, -1.0),
    (0.0, 1.0),
];
/// How far off the thing, in points.
const REACHES: [f64; 9] = [14.0, 20.0, 28.0, 38.0, 50.0, 64.0, 82.0, 104.0, 130.0];

/// Room between two labels on one line, in points.
const GAP: f64 = 6.0;

/// Costs in points of distance: out of the drawing, a square point covered, a line crossed.
const OUTSIDE: f64 = 1.0e6;
const COVERED: f64 = 30.0;
const CROSSED: f64 = 18.0;

/// The area that a text covers.
pub(super) fn text_area(element: &Element, words: &Words) -> Option<Area> {
    let Element::Text {
        at,
        lettering,
        text,
    } = element
    else {
        return None;
    };
    let wide = text_width(&text.plain(words), lettering.weight, lettering.size);
    let before = match lettering.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => wide / 2.0,
        Anchor::End => wide,
    };
    let (up, high) = (lettering.size * 0.8, lettering.size * 1.05);
    Some(if lettering.quarter_turns % 2 == 1 {
        Area::new(at.x - up, at.y - (wide - before), high, wide)
    } else {
        Area::new(at.x - before, at.y - up, wide, high)
    })
}

fn edges(scene: &Scene) -> Vec<(Point, Point)> {
    let mut out = Vec::new();
    for element in &scene.elements {
        if let Element::Path { points, closed, .. } = element {
            let next = points.iter().skip(1);
            out.extend(points.iter().zip(next).map(|(a, b)| (*a, *b)));
            if let (true, Some(first), Some(last)) = (*closed, points.first(), points.last()) {
                out.push((*last, *first));
            }
        }
    }
    out
}

fn candidate(target: Point, direction: (f64, f64), reach: f64, wide: f64, high: f64) -> Placed {
    let (dx, dy) = direction;
    let near = target.moved(dx * reach, dy * reach);
    // The label hangs on the side of the direction it lies in.
    let left = if dx > 0.5 {
        near.x
    } else if dx < -0.5 {
        near.x - wide
    } else {
        near.x - wide / 2.0
    };
    let area = Area::new(left, near.y - high / 2.0, wide, high);
    let from = Point::at(
        target.x.clamp(area.corner.x, area.corner.x + wide),
        target.y.clamp(area.corner.y, area.corner.y + high),
    );
    Placed { area, from }
}

/// Places for all leaders of `scene`, in their order.
pub(super) fn place_labels(scene: &Scene, words: &Words) -> Vec<Placed> {
    let mut taken: Vec<Area> = scene
        .elements
        .iter()
        .filter_map(|element| text_area(element, words))
        .collect();
    taken.extend(&scene.solid);
    let edges = edges(scene);
    let targets: Vec<Area> = scene
        .leaders
        .iter()
        .map(|leader| Area::new(leader.target.x - 4.0, leader.target.y - 4.0, 8.0, 8.0))
        .collect();
    let mut lines: Vec<(Point, Point)> = Vec::new();
    let mut out = Vec::new();
    for leader in &scene.leaders {
        let best = best_place(scene, leader, words, &taken, &targets, &edges, &lines);
        // Side by side, two labels need a gap that no one reads across.
        let wide = best.area.grown(1.5);
        taken.push(Area::new(
            wide.corner.x - GAP,
            wide.corner.y,
            wide.width + 2.0 * GAP,
            wide.height,
        ));
        lines.push((best.from, leader.target));
        out.push(best);
    }
    out
}

fn best_place(
    scene: &Scene,
    leader: &Leader,
    words: &Words,
    taken: &[Area],
    targets: &[Area],
    edges: &[(Point, Point)],
    lines: &[(Point, Point)],
) -> Placed {
    let lettering = leader.lettering;
    let wide = text_width(&leader.text.plain(words), lettering.weight, lettering.size) + 2.0;
    let high = lettering.size * 1.25;
    let cost = |place: &Placed| {
        let area = place.area;
        let mut cost = libm::hypot(
            place.from.x - leader.target.x,
            place.from.y - leader.target.y,
        );
        if !scene.area().holds(area) {
            cost += OUTSIDE;
        }
        cost += COVERED * taken.iter().map(|t| area.shared(*t)).sum::<f64>();
        cost += COVERED * targets.iter().map(|t| area.shared(*t)).sum::<f64>();
        let over = |edges: &[(Point, Point)]| {
            edges
                .iter()
                .filter(|(a, b)| area.crossed_by(*a, *b))
                .count() as f64
        };
        cost += CROSSED * (over(edges) + 2.0 * over(lines));
        // A leader that runs through another label reads as that label's.
        let through = taken
            .iter()
            .filter(|t| t.crossed_by(place.from, leader.target))
            .count();
        cost + 4.0 * CROSSED * through as f64
    };
    let mut best: Option<(f64, Placed)> = None;
    for reach in REACHES {
        for direction in DIRECTIONS {
            let place = candidate(leader.target, direction, reach, wide, high);
            let cost = cost(&place);
            if best.as_ref().is_none_or(|(least, _)| cost < *least - 1e-9) {
                best = Some((cost, place));
            }
        }
    }
    best.map_or_else(
        || candidate(leader.target, (1.0, 0.0), 14.0, wide, high),
        |(_, place)| place,
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::packet::text::Text;

    #[test]
    fn thirty_labels_in_a_row_cover_neither_each_other_nor_the_edge() {
        let mut scene = Scene::new(500.0, 300.0);
        for n in 0..30_u8 {
            scene.leader(
                Point::at(20.0 + 15.0 * f64::from(n), 150.0),
                Text::tag(&format!("outlet-{n}")),
            );
        }
        let placed = place_labels(&scene, Words::english());
        for (n, a) in placed.iter().enumerate() {
            assert!(scene.area().holds(a.area), "{n} leaves the drawing");
            for b in placed.iter().skip(n + 1) {
                assert!(a.area.shared(b.area) < 1e-9, "{a:?} covers {b:?}");
            }
        }
        assert_eq!(placed, place_labels(&scene, Words::english()));
    }

    #[test]
    fn a_label_keeps_off_what_is_kept_clear() {
        let mut scene = Scene::new(200.0, 200.0);
        let clear = Area::new(105.0, 0.0, 95.0, 200.0);
        scene.keep_clear(clear);
        scene.leader(Point::at(100.0, 100.0), Text::tag("trap"));
        let placed = place_labels(&scene, Words::english());
        assert!(placed[0].area.shared(clear) < 1e-9);
    }
}
