//! The working space before a panel or a disconnect: the widest clear stretch that holds its whole width, and its height.

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::model::{Direction, Extent, Front, Model, Point};
use crate::quantity::{Length, trade_length};
use crate::source::Span;
use crate::systems::access::{Shape, Standing, standing_on, taken};

use super::code::{edition_of, nec};

/// Depth, at up to 150 V to ground (NEC Table 110.26(A)(1)).
const DEEP: Length = Length::inches(36);
/// Width (NEC 110.26(A)(2)).
const WIDE: Length = Length::inches(30);
/// Height (NEC 110.26(A)(3)).
const HIGH: Length = Length::inches(78);
/// Width of a panel that does not say (common practice).
const PANEL: Length = Length::inches(15);
/// Width of a disconnect that does not say (common practice).
const DISCONNECT: Length = Length::inches(8);

/// Its width, else that of most of its sort.
fn width_of(front: &Front<'_>) -> Length {
    let usual = if front.word == "panel" {
        PANEL
    } else {
        DISCONNECT
    };
    front.width.unwrap_or(usual)
}

/// The base box of equipment whose turn is not said: the smaller side both ways is surely taken.
fn outdoors<'m>(model: &Model, catalog: &Catalog) -> Vec<Standing<'m>> {
    let units = model.equipment.values().filter_map(|unit| {
        let item = &unit.model.as_ref().filter(|_| unit.story.is_none())?.value;
        let size = match unit.kind {
            "outdoor-unit" => &catalog.outdoor_units.get(item)?.size,
            "chiller" => &catalog.chillers.get(item)?.size,
            _ => return None,
        };
        let (size, point) = (size.get()?, unit.point?);
        let half = size.length.min(size.width).half();
        let low = Point::new(point.x - half, point.y - half, point.z);
        let high = Point::new(point.x + half, point.y + half, point.z + size.height);
        let words = unit.kind.replace('-', " ");
        let extent = Extent::between(low, high);
        Some(Standing::boxed(
            unit.kind, &words, &unit.name, extent, unit.span,
        ))
    });
    let rooms = model.house.rooms.values().filter_map(|room| {
        let extent = room.extent?;
        Some(Standing::boxed(
            "room", "room", &room.name, extent, room.span,
        ))
    });
    units.chain(rooms).collect()
}

/// Where something lies along a front.
const fn along(at: Point, faces: Direction) -> Length {
    if matches!(faces, Direction::North | Direction::South) {
        at.x
    } else {
        at.y
    }
}

/// The strip before a front: as far as the working space may reach to either side, with the stretch it takes.
fn strip(front: &Front<'_>, point: Point, faces: Direction) -> (Extent, (Length, Length)) {
    let middle = along(point, faces);
    let width = width_of(front);
    let reach = width.half() + (WIDE.max(width) - width);
    let stretch = (middle - reach, middle + reach);
    let far = point.toward(faces, DEEP);
    let corner = |at: Point, along: Length, z: Length| match faces {
        Direction::North | Direction::South => Point::new(along, at.y, z),
        _ => Point::new(at.x, along, z),
    };
    let strip = Extent::between(
        corner(point, stretch.0, point.z),
        corner(far, stretch.1, point.z + HIGH),
    );
    (strip, stretch)
}

/// What stands before a front, with its words.
type Before = Vec<(Span, String)>;

/// The clear stretch before a front that stands at `point`, and what narrows it.
fn clear(
    front: &Front<'_>,
    point: Point,
    faces: Direction,
    things: &[Standing<'_>],
) -> (Length, Before) {
    let (strip, (mut from, mut to)) = strip(front, point, faces);
    let middle = along(point, faces);
    let half = width_of(front).half();
    let (left, right) = (middle - half, middle + half);
    let mut places = Vec::new();
    for thing in things {
        let Some((low, high)) = taken(thing, &strip, faces) else {
            continue;
        };
        if high <= from || to <= low {
            continue;
        }
        places.push((thing.span, thing.words.clone()));
        if low < right && left < high {
            // It stands before the front itself: nothing is left of its width.
            return (Length::ZERO, places);
        }
        if high <= left {
            from = from.max(high);
        } else {
            to = to.min(low);
        }
    }
    (to - from, places)
}

/// The shortest move along its wall by which a front stands clear, tried, with the words to write.
fn way_out(
    front: &Front<'_>,
    point: Point,
    faces: Direction,
    things: &[Standing<'_>],
) -> Option<String> {
    let (strip, _) = strip(front, point, faces);
    let width = width_of(front);
    let (half, least) = (width.half(), WIDE.max(width));
    let middle = along(point, faces);
    let (more, less) = match faces {
        Direction::North | Direction::South => (Direction::East, Direction::West),
        _ => (Direction::North, Direction::South),
    };
    let moves = things
        .iter()
        .filter_map(|thing| taken(thing, &strip, faces))
        .flat_map(|(low, high)| {
            // Its own width clear of the thing, or the whole space between it and the thing.
            let whole = least - half;
            [
                (more, high + half - middle),
                (less, middle + half - low),
                (more, high + whole - middle),
                (less, middle + whole - low),
            ]
        });
    moves
        .filter(|(_, far)| *far > Length::ZERO)
        .map(|(way, far)| (way, far.round_up_to(Length::sixteenths(8))))
        .filter(|(way, far)| {
            let (clear, _) = clear(front, point.toward(*way, *far), faces, things);
            clear >= least
        })
        .min_by_key(|(way, far)| (*far, *way))
        .map(|(way, far)| {
            let there = point.toward(way, far);
            format!(
                "{} {} (`at {}, {}`)",
                trade_length(far),
                way.word(),
                trade_length(there.x),
                trade_length(there.y)
            )
        })
}

fn enter_width(model: &Model, catalog: &Catalog, front: &Front<'_>, ledger: &mut Ledger) {
    let (Some(point), Some(faces)) = (front.point, front.faces) else {
        return;
    };
    let mut things = match front.story {
        Some(story) => standing_on(model, catalog, story, None),
        None => outdoors(model, catalog),
    };
    // The ceiling is the height's; on a platform somebody stands.
    things.retain(|thing| {
        !thing.carries && !matches!(thing.shape, Shape::Ceiling(_) | Shape::Floor(_))
    });
    let (wide, places) = clear(front, point, faces.value, &things);
    let mut figure = Figure::length(front.id("working-width"), wide)
        .formula(format!(
            "widest clear stretch before the {word} that holds its whole width, {} deep and {} high; nothing where something stands before the {word} itself",
            trade_length(DEEP),
            trade_length(HIGH),
            word = front.word
        ))
        .place(faces.span, "faces")
        .source(nec(edition_of(model), ["110.26(A)"; 3]));
    for (span, words) in places {
        figure = figure.place(span, words);
    }
    ledger.enter(figure);
    if wide < WIDE.max(width_of(front))
        && let Some(way) = way_out(front, point, faces.value, &things)
    {
        ledger.enter(
            Figure::text(front.id("way-out"), way)
                .formula("the shortest move along its wall by which its front stands clear")
                .input(front.id("working-width")),
        );
    }
}

/// Enters what is clear before a front, and what its story's ceiling leaves above it.
pub(super) fn enter_front(
    model: &Model,
    catalog: &Catalog,
    front: &Front<'_>,
    ledger: &mut Ledger,
) {
    enter_width(model, catalog, front, ledger);
    let story = front.story.and_then(|story| model.house.stories.get(story));
    if let Some(story) = story {
        ledger.enter(
            Figure::length(front.id("headroom"), story.ceiling)
                .formula("ceiling over the working space")
                .place(story.ceiling_span, "ceiling"),
        );
    }
}
