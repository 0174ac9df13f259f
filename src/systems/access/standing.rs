//! Everything near a unit that takes up room: boxes, slopes, the story's ceiling and floor.

use crate::catalog::Catalog;
use crate::model::{AirHandler, Direction, Extent, Model, Point, Roof, SolidKind};
use crate::quantity::{Length, Slope};
use crate::source::Span;

/// The form of something that takes up room.
#[derive(Clone, Debug)]
pub(in crate::systems) enum Shape<'m> {
    /// A box.
    Box(Extent),
    /// Everything above a roof plane.
    Roof(&'m Roof),
    /// Everything above a height.
    Ceiling(Length),
    /// Everything below a height.
    Floor(Length),
}

/// Something that takes up room.
#[derive(Clone, Debug)]
pub(in crate::systems) struct Standing<'m> {
    /// Its part of a figure's id.
    pub(super) id: String,
    /// Its words in reports.
    pub(in crate::systems) words: String,
    /// Its form.
    pub(in crate::systems) shape: Shape<'m>,
    /// Whether a unit may stand on it.
    pub(in crate::systems) carries: bool,
    /// Where it is said.
    pub(in crate::systems) span: Span,
}

/// How deep something stands in a box, and how the box would have to move to be clear of it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Intrusion {
    /// How deep.
    pub(super) depth: Length,
    /// The way out for the box.
    pub(super) out: Direction,
    /// How far that way.
    pub(super) far: Length,
}

impl<'m> Standing<'m> {
    /// A box that stands on its own.
    pub(in crate::systems) fn boxed(
        kind: &str,
        words: &str,
        name: &str,
        extent: Extent,
        span: Span,
    ) -> Self {
        Self {
            id: format!("{kind}-{name}"),
            words: format!("{words} {name}"),
            shape: Shape::Box(extent),
            carries: false,
            span,
        }
    }

    fn of_story(id: &str, words: String, shape: Shape<'m>, span: Span) -> Self {
        Self {
            id: id.to_owned(),
            words,
            carries: matches!(shape, Shape::Floor(_)),
            shape,
            span,
        }
    }
}

/// All that may stand in the way of `unit`; what can be moved for service does not count.
pub(super) fn standing<'m>(
    model: &'m Model,
    catalog: &Catalog,
    unit: &AirHandler,
) -> Vec<Standing<'m>> {
    standing_on(model, catalog, &unit.story, Some(&unit.name))
}

/// All that may stand in the way on a story, an air handler apart.
pub(in crate::systems) fn standing_on<'m>(
    model: &'m Model,
    catalog: &Catalog,
    story: &str,
    apart: Option<&str>,
) -> Vec<Standing<'m>> {
    let house = &model.house;
    let mut out = Vec::new();
    for solid in house.solids.iter().filter(|solid| !solid.removable) {
        let word = solid.kind.word();
        let mut one = Standing::boxed(word, word, &solid.name, solid.extent, solid.span);
        one.carries = solid.kind == SolidKind::Platform;
        out.push(one);
    }
    for other in model
        .air_handlers
        .values()
        .filter(|other| apart != Some(other.name.as_str()))
    {
        if let Some(cabinet) = other.cabinet {
            out.push(Standing::boxed(
                "air-handler",
                "air handler",
                &other.name,
                cabinet,
                other.span,
            ));
        }
    }
    for boiler in model.equipment.values().filter(|one| one.kind == "boiler") {
        let size = boiler
            .model
            .as_ref()
            .and_then(|model| catalog.boilers.get(&model.value)?.size.get());
        if let (Some(point), Some(size)) = (boiler.point, size) {
            // Which way it faces is not said: the smaller side both ways is surely taken.
            let half = size.length.min(size.width).half();
            let low = Point::new(point.x - half, point.y - half, point.z);
            let high = Point::new(point.x + half, point.y + half, point.z + size.height);
            let extent = Extent::between(low, high);
            out.push(Standing::boxed(
                "boiler",
                "boiler",
                &boiler.name,
                extent,
                boiler.span,
            ));
        }
    }
    for roof in house.roofs.iter().filter(|roof| roof.story == story) {
        let id = format!("roof-plane-{}", roof.name);
        let words = format!("roof plane {}", roof.name);
        out.push(Standing::of_story(&id, words, Shape::Roof(roof), roof.span));
    }
    if let Some(story) = house.stories.get(story) {
        let ceiling = Shape::Ceiling(story.floor + story.ceiling);
        let words = format!("the ceiling of {}", story.name);
        out.push(Standing::of_story(
            "ceiling",
            words,
            ceiling,
            story.ceiling_span,
        ));
        let words = format!("the floor of {}", story.name);
        out.push(Standing::of_story(
            "floor",
            words,
            Shape::Floor(story.floor),
            story.span,
        ));
    }
    out
}

/// Whether a roof plane rises along north and south.
pub(super) const fn rises_north_south(roof: &Roof) -> bool {
    matches!(roof.toward, Direction::North | Direction::South)
}

/// Where the low edge of a roof plane begins and ends, across its rise.
pub(super) fn ends(roof: &Roof) -> (Length, Length) {
    let (one, other) = if rises_north_south(roof) {
        (roof.edge.x, roof.edge_end.x)
    } else {
        (roof.edge.y, roof.edge_end.y)
    };
    (one.min(other), one.max(other))
}

/// The smallest level distance from a roof plane's low edge to a box below it; none where the plane does not reach.
pub(super) fn least_run(roof: &Roof, extent: &Extent) -> Option<Length> {
    let (near, far) = match roof.toward {
        Direction::North => (extent.low.y - roof.edge.y, extent.high.y - roof.edge.y),
        Direction::South => (roof.edge.y - extent.high.y, roof.edge.y - extent.low.y),
        Direction::East => (extent.low.x - roof.edge.x, extent.high.x - roof.edge.x),
        _ => (roof.edge.x - extent.high.x, roof.edge.x - extent.low.x),
    };
    let (low, high) = ends(roof);
    let (one, other) = if rises_north_south(roof) {
        (extent.low.x, extent.high.x)
    } else {
        (extent.low.y, extent.high.y)
    };
    (far > Length::ZERO && one < high && low < other).then(|| near.max(Length::ZERO))
}

/// The level distance over which a roof plane rises by `rise`, rounded up; none for a level plane.
pub(super) fn run_for(roof: &Roof, rise: Length) -> Option<Length> {
    Slope::of(roof.slope.run, roof.slope.fall).map(|back| back.fall_over(rise))
}

fn depth_under(roof: &Roof, extent: &Extent) -> Option<Intrusion> {
    let run = least_run(roof, extent)?;
    let depth = extent.high.z - (roof.edge.z + roof.slope.fall_over(run));
    // The box has to stand where the plane is as high as its top.
    let (out, far) = match run_for(roof, extent.high.z - roof.edge.z) {
        Some(there) => (roof.toward, there - run),
        None => (Direction::Down, depth),
    };
    (depth > Length::ZERO).then_some(Intrusion { depth, out, far })
}

impl Standing<'_> {
    /// How deep it stands in a box; none when it stands clear.
    pub(super) fn depth_in(&self, extent: &Extent) -> Option<Intrusion> {
        let level = |depth: Length, out| {
            (depth > Length::ZERO).then_some(Intrusion {
                depth,
                out,
                far: depth,
            })
        };
        match &self.shape {
            Shape::Box(own) => {
                extent.overlap(own)?;
                let up = (Direction::Up, own.high.z - extent.low.z);
                let ways = [
                    (Direction::East, own.high.x - extent.low.x),
                    (Direction::West, extent.high.x - own.low.x),
                    (Direction::North, own.high.y - extent.low.y),
                    (Direction::South, extent.high.y - own.low.y),
                ];
                ways.into_iter()
                    .chain(self.carries.then_some(up))
                    .min_by_key(|(_, far)| *far)
                    .and_then(|(out, depth)| level(depth, out))
            }
            Shape::Roof(roof) => depth_under(roof, extent),
            Shape::Ceiling(at) => level(extent.high.z - *at, Direction::Down),
            Shape::Floor(at) => level(*at - extent.low.z, Direction::Up),
        }
    }

    /// How far it stands from a box on one of its sides; none when it is not there.
    pub(super) fn gap_from(&self, extent: &Extent, side: Direction) -> Option<Length> {
        let gap = match &self.shape {
            Shape::Box(own) => facing(extent, own, side).then(|| match side {
                Direction::East => own.low.x - extent.high.x,
                Direction::West => extent.low.x - own.high.x,
                Direction::North => own.low.y - extent.high.y,
                Direction::South => extent.low.y - own.high.y,
                Direction::Up => own.low.z - extent.high.z,
                Direction::Down => extent.low.z - own.high.z,
            }),
            Shape::Roof(roof) => {
                let run = least_run(roof, extent)?;
                if side == Direction::Up {
                    Some(roof.edge.z + roof.slope.fall_over(run) - extent.high.z)
                } else if side == roof.toward.opposite() {
                    let above = (extent.high.z - roof.edge.z).max(Length::ZERO);
                    run_for(roof, above).map(|there| run - there)
                } else {
                    None
                }
            }
            Shape::Ceiling(at) => (side == Direction::Up).then(|| *at - extent.high.z),
            Shape::Floor(at) => (side == Direction::Down).then(|| extent.low.z - *at),
        };
        gap.filter(|gap| *gap >= Length::ZERO)
    }
}

/// Whether two boxes face each other across a side.
fn facing(one: &Extent, other: &Extent, side: Direction) -> bool {
    let x = one.low.x < other.high.x && other.low.x < one.high.x;
    let y = one.low.y < other.high.y && other.low.y < one.high.y;
    let z = one.low.z < other.high.z && other.low.z < one.high.z;
    match side {
        Direction::East | Direction::West => y && z,
        Direction::North | Direction::South => x && z,
        Direction::Up | Direction::Down => x && y,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::{FileId, Spanned};
    use proptest::prelude::*;

    const fn span() -> Span {
        Span::new(FileId::own(0), 0, 0)
    }

    fn point(x: i64, y: i64, z: i64) -> Point {
        Point::new(Length::inches(x), Length::inches(y), Length::inches(z))
    }

    fn thing(shape: Shape<'_>) -> Standing<'_> {
        Standing::of_story("thing", "thing".to_owned(), shape, span())
    }

    fn roof(toward: Direction, height: i64, rise: i64) -> Roof {
        let (edge, edge_end) = match toward {
            Direction::North => ((0, 0), (100, 0)),
            Direction::South => ((0, 100), (100, 100)),
            Direction::East => ((0, 0), (0, 100)),
            _ => ((100, 0), (100, 100)),
        };
        let slope = Slope::of(Length::inches(rise), Length::FOOT).unwrap();
        Roof {
            name: "slope".to_owned(),
            story: "attic".to_owned(),
            edge: point(edge.0, edge.1, height),
            edge_end: point(edge_end.0, edge_end.1, height),
            slope,
            toward,
            span: Spanned::new((), span()).span,
        }
    }

    #[test]
    fn a_box_that_touches_stands_clear() {
        let cabinet = Extent::between(point(10, 10, 0), point(60, 40, 20));
        let beside = thing(Shape::Box(Extent::between(
            point(60, 0, 0),
            point(70, 50, 50),
        )));
        assert!(beside.depth_in(&cabinet).is_none());
        assert_eq!(
            beside.gap_from(&cabinet, Direction::East),
            Some(Length::ZERO)
        );
        let over = thing(Shape::Ceiling(Length::inches(20)));
        assert!(over.depth_in(&cabinet).is_none());
        let deep = thing(Shape::Box(Extent::between(
            point(57, 0, 0),
            point(70, 50, 50),
        )));
        let found = deep.depth_in(&cabinet).unwrap();
        assert_eq!(
            (found.depth, found.out),
            (Length::inches(3), Direction::West)
        );
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        /// Against the height of the plane over every inch of the box.
        #[test]
        fn a_slope_stands_as_deep_as_its_lowest_point_over_the_box(
            toward in 0_usize..4, height in 0_i64..40, rise in 1_i64..16,
            x in 5_i64..60, y in 5_i64..60, w in 1_i64..35, d in 1_i64..35, top in 1_i64..90,
        ) {
            let toward = [Direction::North, Direction::South, Direction::East, Direction::West][toward];
            let roof = roof(toward, height, rise);
            let extent = Extent::between(point(x, y, 0), point(x + w, y + d, top));
            let lowest = (x..=x + w)
                .flat_map(|x| (y..=y + d).map(move |y| (x, y)))
                .filter_map(|(x, y)| roof.height_over(Length::inches(x), Length::inches(y)))
                .min()
                .unwrap();
            let found = thing(Shape::Roof(&roof)).depth_in(&extent);
            prop_assert_eq!(
                found.map(|found| found.depth),
                (lowest < extent.high.z).then(|| extent.high.z - lowest)
            );
            let above = thing(Shape::Roof(&roof)).gap_from(&extent, Direction::Up);
            prop_assert_eq!(above, (lowest >= extent.high.z).then(|| lowest - extent.high.z));
            if let Some(found) = found {
                // Moved as far as it says, the box stands clear; a sixteenth less and it does not.
                let moved = |far: Length| Extent {
                    low: extent.low.toward(found.out, far),
                    high: extent.high.toward(found.out, far),
                };
                prop_assert!(thing(Shape::Roof(&roof)).depth_in(&moved(found.far)).is_none());
                let less = moved(found.far - Length::sixteenths(1));
                prop_assert!(thing(Shape::Roof(&roof)).depth_in(&less).is_some());
            }
        }
    }
}
