//! The clear width before a unit's control side, for the depth and height that the catalog asks.

use crate::catalog::Side;
use crate::figures::{Figure, Ledger};
use crate::model::{AirHandler, Direction, Extent, Model, Point};
use crate::quantity::{Length, trade_length};

use super::standing::{Shape, Standing, ends, run_for};

/// Enters the widest clear stretch; what stands in a service space is counted there.
pub(super) fn enter(
    model: &Model,
    unit: &AirHandler,
    cabinet: Extent,
    things: &[Standing<'_>],
    ledger: &mut Ledger,
) {
    let space = &unit.sheet.working_space;
    let (Some(side), Some(depth), Some(width), Some(height), Some(story)) = (
        space.side.get(),
        space.depth.get(),
        space.width.get(),
        space.height.get(),
        model.house.stories.get(&unit.story),
    ) else {
        return;
    };
    let toward = match side {
        Side::Front => unit.discharge,
        Side::Back => unit.discharge.opposite(),
        Side::Left => unit.discharge.left(),
        Side::Right => unit.discharge.left().opposite(),
        Side::Top | Side::Bottom => return,
    };
    let heights = (story.floor, story.floor + height);
    let strip = strip(cabinet, toward, depth, width, heights);
    let stretch = stretch(&strip, toward);
    let blockers: Vec<(&Standing<'_>, (Length, Length))> = things
        .iter()
        .filter(|thing| !thing.carries)
        .filter_map(|thing| Some((thing, taken(thing, &strip, toward)?)))
        .collect();
    let clear = widest(stretch, blockers.iter().map(|(_, taken)| *taken).collect());
    let figure = Figure::length(format!("unit.{}.working_width", unit.name), clear).formula(format!(
        "widest clear stretch before the {} side of the cabinet, {} deep and {} high from the floor; \
         what stands in a service space is counted there",
        toward.word(),
        trade_length(depth),
        trade_length(height)
    ));
    let figure = blockers.iter().fold(figure, |figure, (thing, _)| {
        figure.place(thing.span, thing.words.clone())
    });
    ledger.enter(
        figure
            .place(space.depth.span, "depth of the working space")
            .place(space.height.span, "height of the working space"),
    );
}

/// The strip before a side: as long as the side, and longer where the space is wider than the cabinet.
fn strip(
    cabinet: Extent,
    toward: Direction,
    depth: Length,
    width: Length,
    (floor, top): (Length, Length),
) -> Extent {
    let (low, high) = (cabinet.low, cabinet.high);
    let (from, to) = stretch(&cabinet, toward);
    let more = (width - (to - from)).max(Length::ZERO);
    let (from, to) = (from - more, to + more);
    let (x, y) = match toward {
        Direction::North => ((from, to), (high.y, high.y + depth)),
        Direction::South => ((from, to), (low.y - depth, low.y)),
        Direction::East => ((high.x, high.x + depth), (from, to)),
        _ => ((low.x - depth, low.x), (from, to)),
    };
    Extent::between(Point::new(x.0, y.0, floor), Point::new(x.1, y.1, top))
}

/// Where a box begins and ends along a side that looks `toward`.
const fn stretch(extent: &Extent, toward: Direction) -> (Length, Length) {
    if matches!(toward, Direction::North | Direction::South) {
        (extent.low.x, extent.high.x)
    } else {
        (extent.low.y, extent.high.y)
    }
}

/// The stretch of the strip that a thing takes.
pub(in crate::systems) fn taken(
    thing: &Standing<'_>,
    strip: &Extent,
    toward: Direction,
) -> Option<(Length, Length)> {
    match &thing.shape {
        Shape::Box(own) => own.overlap(strip).map(|shared| stretch(&shared, toward)),
        Shape::Ceiling(at) => (*at < strip.high.z).then(|| stretch(strip, toward)),
        Shape::Floor(_) => None,
        Shape::Roof(roof) => {
            thing.depth_in(strip)?;
            if roof.toward == toward || roof.toward == toward.opposite() {
                return Some(ends(roof));
            }
            let low = run_for(roof, strip.high.z - roof.edge.z)?;
            Some(match roof.toward {
                Direction::North => (roof.edge.y, roof.edge.y + low),
                Direction::South => (roof.edge.y - low, roof.edge.y),
                Direction::East => (roof.edge.x, roof.edge.x + low),
                _ => (roof.edge.x - low, roof.edge.x),
            })
        }
    }
}

/// The widest part of a stretch that none of `taken` covers.
fn widest((from, to): (Length, Length), mut taken: Vec<(Length, Length)>) -> Length {
    taken.sort_unstable();
    let (mut at, mut best) = (from, Length::ZERO);
    for (start, end) in taken {
        best = best.max(start.min(to) - at);
        at = at.max(end);
    }
    best.max(to - at)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_widest_stretch_lies_between_what_is_taken() {
        let pair = |a, b| (Length::inches(a), Length::inches(b));
        let wide = |taken| widest(pair(0, 50), taken);
        assert_eq!(wide(vec![]), Length::inches(50));
        assert_eq!(wide(vec![pair(30, 40), pair(5, 10)]), Length::inches(20));
        assert_eq!(wide(vec![pair(-5, 60)]), Length::ZERO);
        assert_eq!(
            wide(vec![pair(0, 20), pair(10, 15), pair(45, 70)]),
            Length::inches(25)
        );
    }
}
