//! The service spaces of a unit: drawn from above and from the side with dimensions, and as a table.

use super::PageSource;
use super::view::{Look, Margins, View, around};
use crate::model::{AirHandler, Direction, Extent, Point as HousePoint};
use crate::packet::page::{Column, Table};
use crate::packet::scene::{Anchor, Area, Dash, Fill, Hatch, Lettering, Pen, Point, Scene};
use crate::packet::text::{Text, say};
use crate::quantity::Length;

const AROUND: Margins = Margins {
    left: 84.0,
    right: 84.0,
    top: 40.0,
    bottom: 48.0,
};
const BESIDE: Margins = Margins {
    left: 84.0,
    right: 84.0,
    top: 32.0,
    bottom: 18.0,
};
const WIDE: f64 = Scene::WIDEST;
const HIGH: f64 = 300.0;

/// The tag of a service space in drawing and table.
fn space_tag(n: usize) -> Text {
    Text::tag(&format!("S{}", n + 1))
}

pub(super) fn id(unit: &AirHandler, quantity: &str) -> String {
    format!("air-handler.{}.{quantity}", unit.name)
}

/// Spaces as hatched boxes with their tags, the cabinet over them.
pub(super) fn boxes(scene: &mut Scene, view: &View, unit: &AirHandler, cabinet: Extent) {
    for (n, space) in unit.spaces.iter().enumerate() {
        let hatch = if n % 2 == 0 {
            Hatch::Rising
        } else {
            Hatch::Falling
        };
        scene.rectangle(view.area(space.extent), Pen::CLEAR, Fill::Hatch(hatch));
    }
    let area = view.area(cabinet);
    scene.rectangle(area, Pen::HEAVY, Fill::White);
    scene.keep_clear(area);
    scene.text(
        area.middle().moved(0.0, 4.0),
        Lettering::NAME,
        Text::tag(&unit.name),
    );
}

/// Level legs of drains that lead through a service space, as far as the drawing shows them.
fn drains(scene: &mut Scene, view: &View, source: &PageSource<'_>, unit: &AirHandler, all: Extent) {
    let shown = |at: HousePoint| {
        HousePoint::new(
            at.x.max(all.low.x).min(all.high.x),
            at.y.max(all.low.y).min(all.high.y),
            at.z,
        )
    };
    // Thinner than any pipe: it only has to share more than a face.
    let hair = Length::sixteenths(1);
    for drain in source.model.drains.values() {
        let inside = drain.legs.iter().filter(|leg| {
            let leg = Extent::between(leg.start, leg.end).grown(hair);
            unit.spaces
                .iter()
                .any(|space| space.extent.overlap(&leg).is_some())
        });
        let mut named = false;
        for leg in inside {
            let (from, to) = (view.at(shown(leg.start)), view.at(shown(leg.end)));
            scene.path([from, to], Pen::broken(1.6, Dash::DashDot));
            if !named {
                let middle = Point::at(f64::midpoint(from.x, to.x), f64::midpoint(from.y, to.y));
                let name = source.name(drain.span, &drain.name);
                scene.leader(middle, say("plan.drain").with("name", name));
            }
            named = true;
        }
    }
}

/// How far each space reaches out of the cabinet, drawn as dimensions; those that the look hides are left out.
fn reaches(scene: &mut Scene, view: &View, unit: &AirHandler, source: &PageSource<'_>, look: Look) {
    let Some(cabinet) = unit.cabinet else { return };
    let body = view.area(cabinet);
    let mut used: Vec<(Direction, f64)> = Vec::new();
    let side_of = |n: usize| {
        source
            .ledger
            .word(&id(unit, &format!("space_{}.side", n + 1)))
            .and_then(Direction::named)
    };
    let sides: Vec<Option<Direction>> = (0..unit.spaces.len()).map(side_of).collect();
    for (n, (space, side)) in unit.spaces.iter().zip(&sides).enumerate() {
        let Some(side) = *side else { continue };
        let reach = Text::of(source.ledger, &id(unit, &format!("space_{}.reach", n + 1)));
        let text = Text::named(space_tag(n), reach);
        let area = view.area(space.extent);
        let (right, left) = match look {
            Look::Above | Look::North => (Direction::East, Direction::West),
            Look::West => (Direction::North, Direction::South),
        };
        let (up, down) = match look {
            Look::Above => (Direction::North, Direction::South),
            _ => (Direction::Up, Direction::Down),
        };
        let row = used.iter().filter(|(way, _)| *way == side).count() as f64;
        used.push((side, row));
        // All that reach out on one side are measured beside the outermost of them.
        let same: Vec<Area> = unit
            .spaces
            .iter()
            .zip(&sides)
            .filter(|(_, other)| **other == Some(side))
            .map(|(space, _)| view.area(space.extent))
            .collect();
        let top = same
            .iter()
            .map(|a| a.corner.y)
            .fold(area.corner.y, f64::min);
        let west = same
            .iter()
            .map(|a| a.corner.x)
            .fold(area.corner.x, f64::min);
        let (end_x, end_y) = (body.corner.x + body.width, body.corner.y + body.height);
        let far = 12.0 + 18.0 * row;
        if side == right {
            let reach = area.corner.x + area.width;
            scene.dimension(Point::at(end_x, top), Point::at(reach, top), far, text);
        } else if side == left {
            let (from, to) = (area.corner.x, body.corner.x);
            scene.dimension(Point::at(from, top), Point::at(to, top), far, text);
        } else if side == up {
            let (from, to) = (body.corner.y, area.corner.y);
            scene.dimension(Point::at(west, from), Point::at(west, to), far, text);
        } else if side == down {
            let reach = area.corner.y + area.height;
            scene.dimension(Point::at(west, reach), Point::at(west, end_y), far, text);
        }
    }
}

/// Whether the discharge runs along the drawing's width, seen from above.
fn along_x(unit: &AirHandler) -> bool {
    matches!(unit.discharge, Direction::East | Direction::West)
}

fn arrow(scene: &mut Scene, from: Point, to: Point) {
    scene.line(from, to, Pen::MEDIUM);
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let long = libm::hypot(dx, dy).max(1e-6);
    let (ux, uy) = (dx / long, dy / long);
    let head = [
        to,
        to.moved(-8.0 * ux + 4.0 * uy, -8.0 * uy - 4.0 * ux),
        to.moved(-8.0 * ux - 4.0 * uy, -8.0 * uy + 4.0 * ux),
    ];
    scene.outline(head, Pen::THIN, Fill::Black);
}

/// Seen from above: size of the cabinet and reach of each space.
pub(super) fn plan(source: &PageSource<'_>, unit: &AirHandler, cabinet: Extent) -> (Text, Scene) {
    let all = around(
        unit.spaces
            .iter()
            .map(|space| space.extent)
            .chain([cabinet]),
    )
    .unwrap_or(cabinet);
    let view = View::of(Look::Above, all, WIDE, HIGH, AROUND);
    let whole = view.area(all);
    let mut scene = Scene::new(
        whole.corner.x + whole.width + AROUND.right,
        whole.corner.y + whole.height + AROUND.bottom,
    );
    boxes(&mut scene, &view, unit, cabinet);
    drains(&mut scene, &view, source, unit, all);
    reaches(&mut scene, &view, unit, source, Look::Above);
    let body = view.area(cabinet);
    let (long, wide) = (
        Text::of(source.ledger, &id(unit, "long")),
        Text::of(source.ledger, &id(unit, "wide")),
    );
    let (across, deep) = if along_x(unit) {
        (long, wide)
    } else {
        (wide, long)
    };
    let bottom = whole.corner.y + whole.height;
    let (left, right) = (body.corner.x, body.corner.x + body.width);
    scene.dimension(
        Point::at(left, bottom),
        Point::at(right, bottom),
        -14.0,
        across,
    );
    let edge = whole.corner.x + whole.width;
    scene.dimension(
        Point::at(edge, body.corner.y + body.height),
        Point::at(edge, body.corner.y),
        -46.0,
        deep,
    );
    let middle = body.middle();
    let (dx, dy) = match unit.discharge {
        Direction::East => (1.0, 0.0),
        Direction::West => (-1.0, 0.0),
        Direction::North => (0.0, -1.0),
        _ => (0.0, 1.0),
    };
    let half = if along_x(unit) {
        body.width
    } else {
        body.height
    } / 2.0;
    let start = middle.moved(dx * (half - 4.0), dy * (half - 4.0));
    arrow(&mut scene, start.moved(-dx * 18.0, -dy * 18.0), start);
    scene.north(Point::at(scene.area().width - 28.0, 34.0), 0.0);
    scene.scale_bar(Point::at(20.0, scene.area().height - 22.0), view.scale());
    let figure = view
        .scale()
        .figure(format!("drawing.setting-{}-plan.scale", unit.name));
    let title = say("setting.from-above").with("scale", Text::figure(&figure));
    (title.into(), scene)
}

/// The underside of the roof over the unit's middle, at even steps along the drawing.
fn roof_line(
    source: &PageSource<'_>,
    unit: &AirHandler,
    all: Extent,
    look: Look,
) -> Vec<HousePoint> {
    let middle = all.center();
    let roofs: Vec<_> = source
        .model
        .house
        .roofs
        .iter()
        .filter(|roof| roof.story == unit.story)
        .collect();
    let (from, to) = match look {
        Look::West => (all.low.y, all.high.y),
        _ => (all.low.x, all.high.x),
    };
    let step = (to - from) / 12;
    (0..=12)
        .filter_map(|n| {
            let across = from + step * n;
            let (x, y) = match look {
                Look::West => (middle.x, across),
                _ => (across, middle.y),
            };
            roofs
                .iter()
                .filter_map(|roof| roof.height_over(x, y))
                .min()
                .map(|z| HousePoint::new(x, y, z))
        })
        .collect()
}

/// From the side: stand, cabinet and spaces above the floor.
pub(super) fn side(
    source: &PageSource<'_>,
    unit: &AirHandler,
    cabinet: Extent,
    floor: Length,
    high: f64,
) -> (Text, Scene) {
    // The look is across the discharge, so that the front shows.
    let look = if along_x(unit) {
        Look::North
    } else {
        Look::West
    };
    let ground = Extent {
        low: HousePoint::new(cabinet.low.x, cabinet.low.y, floor),
        high: HousePoint::new(cabinet.high.x, cabinet.high.y, floor),
    };
    let all = around(
        unit.spaces
            .iter()
            .map(|space| space.extent)
            .chain([cabinet, ground]),
    )
    .unwrap_or(cabinet);
    let view = View::of(look, all, WIDE, high, BESIDE);
    let whole = view.area(all);
    let mut scene = Scene::new(
        whole.corner.x + whole.width + BESIDE.right,
        whole.corner.y + whole.height + BESIDE.bottom,
    );
    // Only spaces beyond the two ends or above show from this side; the others lie behind or before the cabinet.
    boxes(&mut scene, &view, unit, cabinet);
    reaches(&mut scene, &view, unit, source, look);
    let base = view.at(HousePoint::new(all.low.x, all.low.y, floor)).y;
    let (left, right) = (whole.corner.x - 30.0, whole.corner.x + whole.width + 30.0);
    scene.line(Point::at(left, base), Point::at(right, base), Pen::HEAVY);
    scene.text(
        Point::at(right - 2.0, base + 12.0),
        Lettering::LABEL.anchored(Anchor::End),
        say("setting.floor").with("story", Text::tag(&unit.story)),
    );
    let roof: Vec<Point> = roof_line(source, unit, all, look)
        .into_iter()
        .map(|point| view.at(point))
        .filter(|at| at.y >= 0.0)
        .collect();
    if roof.len() > 1 {
        scene.path(roof, Pen::HEAVY);
    }
    let body = view.area(cabinet);
    let low = body.corner.y + body.height;
    let x = whole.corner.x;
    let off = 30.0;
    scene.dimension(
        Point::at(x, low),
        Point::at(x, body.corner.y),
        off,
        Text::of(source.ledger, &id(unit, "high")),
    );
    if base - low > 0.5 {
        // The supports, drawn as two feet; of a unit that hangs, as two rods.
        for place in [body.corner.x + 6.0, body.corner.x + body.width - 14.0] {
            if unit.hung {
                let rod = place + 4.0;
                let top = (body.corner.y - 24.0).max(1.0);
                scene.line(
                    Point::at(rod, body.corner.y),
                    Point::at(rod, top),
                    Pen::MEDIUM,
                );
                continue;
            }
            scene.rectangle(
                Area::new(place, low, 8.0, base - low),
                Pen::MEDIUM,
                Fill::Hatch(Hatch::Crossed),
            );
        }
        scene.dimension(
            Point::at(x, base),
            Point::at(x, low),
            off,
            Text::of(source.ledger, &id(unit, "underside")),
        );
    }
    let figure = view
        .scale()
        .figure(format!("drawing.setting-{}-side.scale", unit.name));
    let words = match look {
        Look::West => say("setting.toward-west"),
        _ => say("setting.toward-north"),
    };
    let title = words.with("scale", Text::figure(&figure));
    (title.into(), scene)
}

/// What each space is for, and how far it reaches.
pub(super) fn spaces(source: &PageSource<'_>, unit: &AirHandler) -> Table {
    let mut table = Table::new(vec![
        Column::left(say("setting.space")),
        Column::left(say("setting.for")).wide(),
        Column::right(say("setting.reach")),
        Column::left(say("setting.toward")),
        Column::center(say("setting.clear-now")),
    ]);
    for (n, space) in unit.spaces.iter().enumerate() {
        let of = |quantity: &str| {
            let id = id(unit, &format!("space_{}.{quantity}", n + 1));
            source
                .ledger
                .get(&id)
                .map_or_else(Text::empty, Text::figure)
        };
        let sheet = unit
            .sheet
            .service_spaces
            .iter()
            .find(|sheet| sheet.span == space.span);
        let reason = sheet.map_or(space.span, |sheet| sheet.for_what.span);
        table.row([
            space_tag(n),
            Text::quote(source.files, reason),
            of("reach"),
            of("side"),
            Text::blank(),
        ]);
    }
    table
}
