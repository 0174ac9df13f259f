//! Setting the unit: its service spaces from above and from the side with dimensions, weight, way in, cautions.

use super::PageSource;
use super::view::{Look, Margins, View, around};
use crate::catalog::Clearances;
use crate::model::{AirHandler, Direction, Extent, Point as HousePoint};
use crate::packet::page::{Block, Caution, Column, Fact, Hazard, Page, Table, Tick, Trade};
use crate::packet::scene::{Anchor, Area, Fill, Hatch, Lettering, Pen, Point, Scene};
use crate::packet::text::{Text, say};
use crate::quantity::Length;
use crate::source::Span;

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

/// From this temperature on, °F, the page warns of the heat: common practice.
const HOT: f64 = 90.0;

/// The tag of a service space in drawing and table.
fn space_tag(n: usize) -> Text {
    Text::tag(&format!("S{}", n + 1))
}

fn id(unit: &AirHandler, quantity: &str) -> String {
    format!("air-handler.{}.{quantity}", unit.name)
}

/// Spaces as hatched boxes with their tags, the cabinet over them.
fn boxes(scene: &mut Scene, view: &View, unit: &AirHandler, cabinet: Extent) {
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
fn plan(source: &PageSource<'_>, unit: &AirHandler, cabinet: Extent) -> (Text, Scene) {
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
fn side(
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

fn facts(source: &PageSource<'_>, unit: &AirHandler) -> Vec<Fact> {
    let quoted = |span: Span| Text::quote(source.files, span);
    let sheet = &unit.sheet;
    let figure = |quantity: &str| Text::of(source.ledger, &id(unit, quantity));
    let mut facts = vec![Fact::new(say("setting.model"), quoted(unit.model.span))];
    if source.ledger.get(&id(unit, "underside")).is_some() {
        facts.push(Fact::big(
            say("setting.underside").with("story", Text::tag(&unit.story)),
            figure("underside"),
        ));
    }
    if unit.cabinet.is_some() {
        facts.push(Fact::big(say("setting.from-west"), figure("from_west")));
        facts.push(Fact::big(say("setting.from-south"), figure("from_south")));
    }
    let toward = match unit.discharge {
        Direction::North => say("way.north"),
        Direction::South => say("way.south"),
        Direction::East => say("way.east"),
        Direction::West => say("way.west"),
        Direction::Up => say("way.up"),
        Direction::Down => say("way.down"),
    };
    facts.push(Fact::new(say("setting.discharge"), toward));
    if sheet.weight.get().is_some() {
        facts.push(Fact::big(say("setting.weight"), quoted(sheet.weight.span)));
    }
    if let Some(setting) = &unit.setting {
        facts.push(Fact::new(say("setting.voltage"), quoted(setting.span)));
    }
    if let Some(tap) = &unit.tap {
        facts.push(Fact::new(say("setting.tap"), quoted(tap.span)));
    }
    for part in &unit.fitted {
        facts.push(Fact::new(say("setting.fitted"), quoted(part.span)));
    }
    facts
}

/// Largest piece, hatch and way beside each other.
fn way_in(source: &PageSource<'_>, unit: &AirHandler) -> Table {
    let quoted = |span: Span| Text::quote(source.files, span);
    let mut table = Table::new(vec![
        Column::left(say("setting.way")).wide(),
        Column::right(say("setting.clear")),
        Column::right(say("setting.measured")),
    ]);
    let piece = &unit.sheet.largest_piece;
    if piece.size.get().is_some() {
        table.strong_row([
            say("setting.largest")
                .with("what", quoted(piece.what.span))
                .into(),
            quoted(piece.size.span),
        ]);
    }
    let paths = source
        .model
        .house
        .paths
        .iter()
        .filter(|path| path.to.value == unit.name);
    for path in paths {
        if let Some(hatch) = source.model.house.hatches.get(&path.from.value) {
            table.row([
                say("setting.hatch")
                    .with("name", Text::tag(&hatch.name))
                    .into(),
                quoted(hatch.clear.0.span.to(hatch.clear.1.span)),
                Text::blank(),
            ]);
        }
        table.row([
            say("setting.path")
                .with("name", Text::tag(&path.name))
                .into(),
            quoted(path.clear.0.span.to(path.clear.1.span)),
            Text::blank(),
        ]);
    }
    table
}

fn spaces(source: &PageSource<'_>, unit: &AirHandler) -> Table {
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

fn clearances(source: &PageSource<'_>, clear: &Clearances) -> Table {
    let mut table = Table::new(vec![
        Column::left(say("setting.side")).wide(),
        Column::right(say("setting.least")),
    ]);
    for (words, stated) in [
        (say("setting.front"), &clear.front),
        (say("setting.back"), &clear.back),
        (say("setting.left"), &clear.left),
        (say("setting.right"), &clear.right),
        (say("setting.top"), &clear.top),
        (say("setting.bottom"), &clear.bottom),
    ] {
        if stated.get().is_some() {
            table.row([words.into(), Text::quote(source.files, stated.span)]);
        }
    }
    table
}

fn steps(source: &PageSource<'_>, unit: &AirHandler) -> Vec<Tick> {
    let heat = source
        .model
        .house
        .stories
        .get(&unit.story)
        .and_then(|story| story.summer.as_ref());
    let rooms = &source.model.house.rooms;
    let mut first = Tick::new(say("setting.step-way"));
    if !rooms.values().any(|room| room.story.value == unit.story) {
        first = first.caution(Caution::new(Hazard::Fall, say("plan.step-on-joists")));
    }
    if let Some(summer) = heat.filter(|summer| summer.value >= HOT) {
        let words =
            say("setting.attic-heat").with("summer", Text::quote(source.files, summer.span));
        first = first.caution(Caution::new(Hazard::General, words));
    }
    let lift = Caution::new(Hazard::Weight, say("setting.lift"));
    vec![
        first,
        Tick::new(say("setting.step-lift")).caution(lift),
        Tick::new(say("setting.step-pan")),
        Tick::new(say("setting.step-place")),
        Tick::new(say("setting.step-level"))
            .caution(Caution::new(Hazard::Water, say("setting.level"))),
        Tick::new(say("setting.step-spaces")),
        Tick::new(say("setting.step-voltage"))
            .caution(Caution::new(Hazard::Shock, say("setting.voltage-first"))),
    ]
}

/// Two pages a unit: where it stands, and its spaces with their dimensions.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    let hands = [
        Trade::Lead,
        Trade::SheetMetal,
        Trade::Electrician,
        Trade::Plumber,
    ];
    for unit in source.model.air_handlers.values() {
        let title = say("setting.title").with("unit", Text::tag(&unit.name));
        let mut page = Page::new(format!("setting-{}", unit.name), title).trades(&hands);
        page.rests_on(source.files, unit.whole);
        page.put(Block::Facts(facts(source, unit)));
        page.put(Block::heading(say("setting.way-in")));
        page.put(Block::Table(way_in(source, unit)));
        page.put(Block::heading(say("setting.steps")));
        page.put(Block::Ticks(steps(source, unit)));
        page.put(Block::heading(say("setting.clearances")));
        page.put(Block::Table(clearances(source, &unit.sheet.clearances)));
        pages.push(page);
        let title = say("setting.spaces-title").with("unit", Text::tag(&unit.name));
        let mut page = Page::new(format!("spaces-{}", unit.name), title).trades(&hands);
        if let Some(cabinet) = unit.cabinet {
            let (title, scene) = plan(source, unit, cabinet);
            // What plan and table leave of the page.
            let rest = 545.0 - scene.area().height - 22.0 * unit.spaces.len() as f64;
            let high = rest.clamp(140.0, 260.0);
            page.put(Block::drawing(title, scene));
            if let Some(story) = source.model.house.stories.get(&unit.story) {
                let (title, scene) = side(source, unit, cabinet, story.floor, high);
                page.put(Block::drawing(title, scene));
            }
        }
        if !unit.spaces.is_empty() {
            page.put(Block::Table(spaces(source, unit)));
        }
        pages.push(page);
    }
}
