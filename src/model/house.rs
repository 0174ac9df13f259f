//! Stories, rooms, roofs and everything solid.

use indexmap::IndexMap;

use crate::language::Entry;
use crate::quantity::{Length, Slope, trade_length};
use crate::source::{Finding, Span, Spanned};

use super::build::Builder;
use super::mistakes::{OUTSIDE_ROOM, ROOM_CLASH};
use super::place::{Direction, Extent, Point};

/// A level of the house.
#[derive(Clone, Debug)]
pub struct Story {
    /// Its name.
    pub name: String,
    /// Floor above the lowest story's floor.
    pub floor: Length,
    /// Ceiling above this floor.
    pub ceiling: Length,
    /// The words of the ceiling height.
    pub ceiling_span: Span,
    /// Summer temperature where unconditioned, °F.
    pub summer: Option<Spanned<f64>>,
    /// Winter temperature where unconditioned, °F.
    pub winter: Option<Spanned<f64>>,
    /// `crawl-space` or `lay-in-ceiling`, where only openings let somebody in.
    pub limited: Option<Spanned<String>>,
    /// Its head.
    pub span: Span,
}

/// Where an outlet sits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Surface {
    /// In the ceiling.
    Ceiling,
    /// In the floor.
    Floor,
    /// In a wall.
    Wall(Direction),
}

/// A supply outlet.
#[derive(Clone, Debug)]
pub struct Outlet {
    /// Its name.
    pub name: String,
    /// The room.
    pub room: String,
    /// Its place in the house.
    pub point: Point,
    /// Where it sits.
    pub surface: Surface,
    /// The catalog's outlet.
    pub model: Option<Spanned<String>>,
    /// How far and which ways it may move.
    pub may_move: Option<(Length, Vec<Direction>)>,
    /// The statement.
    pub span: Span,
    /// The words of its place in the room.
    pub at: Span,
}

/// A room.
#[derive(Clone, Debug)]
pub struct Room {
    /// Its name.
    pub name: String,
    /// Its story.
    pub story: Spanned<String>,
    /// Its solid.
    pub extent: Option<Extent>,
    /// Sensible cooling load, Btu/h.
    pub sensible: Option<Spanned<f64>>,
    /// Latent cooling load, Btu/h.
    pub latent: Option<Spanned<f64>>,
    /// Heat loss, Btu/h.
    pub heating: Option<Spanned<f64>>,
    /// What it is for.
    pub purpose: Option<String>,
    /// The room whose air keeps it.
    pub served_by: Option<Spanned<String>>,
    /// Whether it is neither heated nor cooled.
    pub unconditioned: bool,
    /// Its outlets.
    pub outlets: Vec<Outlet>,
    /// Its head.
    pub span: Span,
    /// Its whole block.
    pub whole: Span,
    /// Whether part of its block was misread: what it lacks may be there.
    pub flawed: bool,
}

/// What sort of solid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SolidKind {
    /// An obstacle.
    Obstacle,
    /// A chimney or vent.
    Flue,
    /// A wall inside a story.
    Wall,
    /// A platform.
    Platform,
}

impl SolidKind {
    /// Its word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Obstacle => "obstacle",
            Self::Flue => "flue",
            Self::Wall => "wall",
            Self::Platform => "platform",
        }
    }
}

/// Something solid.
#[derive(Clone, Debug)]
pub struct Solid {
    /// What sort.
    pub kind: SolidKind,
    /// Its name.
    pub name: String,
    /// Its story.
    pub story: String,
    /// Its box, with the clearance it asks for.
    pub extent: Extent,
    /// Clearance it asks for.
    pub clearance: Length,
    /// Whether it can be moved for service.
    pub removable: bool,
    /// Its head.
    pub span: Span,
}

/// The underside of a roof: rises from a low edge.
#[derive(Clone, Debug)]
pub struct Roof {
    /// Its name.
    pub name: String,
    /// Its story.
    pub story: String,
    /// Low edge, one end.
    pub edge: Point,
    /// Low edge, other end.
    pub edge_end: Point,
    /// Its slope.
    pub slope: Slope,
    /// Which way it rises.
    pub toward: Direction,
    /// Its head.
    pub span: Span,
}

impl Roof {
    /// The height of the underside over a point on plan; none where the plane does not reach:
    /// before its edge or beside its ends.
    pub fn height_over(&self, x: Length, y: Length) -> Option<Length> {
        let (along, run) = match self.toward {
            Direction::North => (x, y - self.edge.y),
            Direction::South => (x, self.edge.y - y),
            Direction::East => (y, x - self.edge.x),
            _ => (y, self.edge.x - x),
        };
        let (one, other) = match self.toward {
            Direction::North | Direction::South => (self.edge.x, self.edge_end.x),
            _ => (self.edge.y, self.edge_end.y),
        };
        let inside = one.min(other) <= along && along <= one.max(other);
        (inside && run >= Length::ZERO).then(|| self.edge.z + self.slope.fall_over(run))
    }
}

/// A hatch or other access to a story.
#[derive(Clone, Debug)]
pub struct Hatch {
    /// Its name.
    pub name: String,
    /// Its story.
    pub story: String,
    /// Its middle.
    pub center: Point,
    /// Its clear opening.
    pub clear: (Spanned<Length>, Spanned<Length>),
    /// Its head.
    pub span: Span,
}

impl Hatch {
    /// The narrower side, then the wider.
    pub fn sides(&self) -> (Spanned<Length>, Spanned<Length>) {
        let (one, other) = self.clear;
        if one.value <= other.value {
            (one, other)
        } else {
            (other, one)
        }
    }
}

/// The way from an access to a unit.
#[derive(Clone, Debug)]
pub struct Path {
    /// Its name.
    pub name: String,
    /// Where it starts.
    pub from: Spanned<String>,
    /// The unit.
    pub to: Spanned<String>,
    /// Its length.
    pub length: Option<Spanned<Length>>,
    /// Clear width and height.
    pub clear: (Spanned<Length>, Spanned<Length>),
    /// Width of the floor along it.
    pub floored: Option<Spanned<Length>>,
    /// Its head.
    pub span: Span,
}

/// The house.
#[derive(Clone, Debug, Default)]
pub struct House {
    /// Stories by name, in the order written.
    pub stories: IndexMap<String, Story>,
    /// Rooms by name.
    pub rooms: IndexMap<String, Room>,
    /// Obstacles, flues, walls, platforms.
    pub solids: Vec<Solid>,
    /// Roof planes.
    pub roofs: Vec<Roof>,
    /// Accesses by name.
    pub hatches: IndexMap<String, Hatch>,
    /// Ways from access to unit.
    pub paths: Vec<Path>,
}

impl House {
    /// All outlets, room by room.
    pub fn outlets(&self) -> impl Iterator<Item = &Outlet> {
        self.rooms.values().flat_map(|room| &room.outlets)
    }

    /// The outlet called `name`.
    pub fn outlet(&self, name: &str) -> Option<&Outlet> {
        self.outlets().find(|outlet| outlet.name == name)
    }

    /// The story whose floor-to-ceiling height holds `z`, the uppermost when two meet there.
    pub fn story_at(&self, z: Length) -> Option<&Story> {
        self.stories
            .values()
            .filter(|story| story.floor <= z && z <= story.floor + story.ceiling)
            .max_by_key(|story| story.floor)
    }
}

pub(super) fn story(builder: &mut Builder<'_>, entry: &Entry) {
    let Some(name) = entry.text("name").known() else {
        return;
    };
    if !builder.enter("story", &name) {
        return;
    }
    let floor = entry
        .child("floor")
        .and_then(|child| builder.length(child, "floor"));
    let ceiling = entry
        .child("ceiling")
        .and_then(|child| builder.size(child, "ceiling"));
    let (summer, winter) = (
        entry
            .child("summer")
            .and_then(|child| builder.real(child, "temperature")),
        entry
            .child("winter")
            .and_then(|child| builder.real(child, "temperature")),
    );
    let (Some(floor), Some(ceiling)) = (floor, ceiling) else {
        builder.half_known("story", &name.value);
        return;
    };
    let story = Story {
        name: name.value.clone(),
        floor: floor.value,
        ceiling: ceiling.value,
        ceiling_span: ceiling.span,
        summer,
        winter,
        limited: entry
            .child("limited-access")
            .and_then(|child| child.text("sort").known()),
        span: entry.span,
    };
    builder.model.house.stories.insert(name.value, story);
}

/// The story that a thing says it stands on, if it is known.
pub(super) fn story_of(builder: &mut Builder<'_>, entry: &Entry, slot: &str) -> Option<Story> {
    let name = entry.text(slot).known()?;
    if !builder.expect(&["story"], &name) {
        return None;
    }
    builder.model.house.stories.get(&name.value).cloned()
}

fn outlet(
    builder: &mut Builder<'_>,
    entry: &Entry,
    room: &Room,
    extent: Option<Extent>,
) -> Option<Outlet> {
    let name = entry.text("name").known()?;
    if !builder.enter("outlet", &name) {
        return None;
    }
    let extent = extent?;
    let x = builder.length(entry, "x")?;
    let wall = entry
        .text("wall")
        .known()
        .and_then(|wall| Direction::named(&wall.value));
    let surface = match entry.text("surface").known()?.value.as_str() {
        "ceiling" => Surface::Ceiling,
        "floor" => Surface::Floor,
        _ => Surface::Wall(wall.unwrap_or(Direction::North)),
    };
    let y = builder.length(entry, "y");
    let height = builder.length(entry, "z");
    let at = y.map_or(x.span, |y| x.span.to(y.span));
    let low = extent.low;
    let point = match surface {
        Surface::Ceiling => Point::new(low.x + x.value, low.y + y?.value, extent.high.z),
        Surface::Floor => Point::new(low.x + x.value, low.y + y?.value, low.z),
        Surface::Wall(side) => {
            let z = low.z + height.map_or(Length::ZERO, |height| height.value);
            match side {
                Direction::North => Point::new(low.x + x.value, extent.high.y, z),
                Direction::South => Point::new(low.x + x.value, low.y, z),
                Direction::East => Point::new(extent.high.x, low.y + x.value, z),
                _ => Point::new(low.x, low.y + x.value, z),
            }
        }
    };
    if !extent.holds(point) {
        let (wide, deep, tall) = extent.size();
        builder.report(
            Finding::new(
                &OUTSIDE_ROOM,
                at,
                format!("outlet `{}` lies outside room `{}`", name.value, room.name),
                format!(
                    "the room is {} by {} and {} high, measured from its southwest corner",
                    trade_length(wide),
                    trade_length(deep),
                    trade_length(tall)
                ),
            )
            .label(room.span, "the room"),
        );
        return None;
    }
    let may_move = builder.length(entry, "move").map(|far| {
        let ways = entry
            .fields("toward")
            .chain(entry.fields("other"))
            .filter_map(|field| match &field.value {
                crate::language::Value::Word(word) => Direction::named(word),
                _ => None,
            })
            .collect();
        (far.value, ways)
    });
    Some(Outlet {
        name: name.value,
        room: room.name.clone(),
        point,
        surface,
        model: builder.text(entry, "model"),
        may_move,
        span: entry.span,
        at,
    })
}

pub(super) fn room(builder: &mut Builder<'_>, entry: &Entry) {
    let Some(name) = entry.text("name").known() else {
        return;
    };
    if !builder.enter("room", &name) {
        return;
    }
    let story = story_of(builder, entry, "story");
    let Some(story_name) = entry.text("story").known() else {
        return;
    };
    let corner = entry
        .child("corner")
        .and_then(|c| Some((builder.length(c, "x")?, builder.length(c, "y")?)));
    let size = entry
        .child("size")
        .and_then(|c| Some((builder.size(c, "x")?, builder.size(c, "y")?)));
    let own = entry
        .child("ceiling")
        .and_then(|c| builder.size(c, "height"));
    let extent = match (&story, corner, size) {
        (Some(story), Some((x, y)), Some((wide, deep))) => {
            let low = Point::new(x.value, y.value, story.floor);
            let tall = own.map_or(story.ceiling, |own| own.value);
            Some(Extent::between(
                low,
                Point::new(low.x + wide.value, low.y + deep.value, low.z + tall),
            ))
        }
        _ => None,
    };
    let cooling = entry.child("cooling");
    let mut room = Room {
        name: name.value.clone(),
        story: story_name,
        extent,
        sensible: cooling.and_then(|c| builder.real(c, "sensible")),
        latent: cooling.and_then(|c| builder.real(c, "latent")),
        heating: entry.child("heating").and_then(|c| builder.real(c, "load")),
        purpose: entry
            .child("use")
            .and_then(|c| c.text("use").known())
            .map(|word| word.value),
        served_by: entry.child("served").and_then(|c| c.text("room").known()),
        unconditioned: entry.child("unconditioned").is_some(),
        outlets: Vec::new(),
        span: entry.span,
        whole: entry.whole,
        flawed: entry.flawed || entry.body_flawed || extent.is_none(),
    };
    if let Some(extent) = room.extent {
        clash(builder, &room, extent);
    }
    for child in entry.children("outlet") {
        match outlet(builder, child, &room, extent) {
            Some(outlet) => room.outlets.push(outlet),
            None => room.flawed = true,
        }
    }
    builder.model.house.rooms.insert(name.value, room);
}

fn clash(builder: &mut Builder<'_>, room: &Room, extent: Extent) {
    let other = builder.model.house.rooms.values().find_map(|other| {
        let shared = other.extent?.overlap(&extent)?;
        (other.story.value == room.story.value).then(|| (other.name.clone(), other.span, shared))
    });
    let Some((name, span, shared)) = other else {
        return;
    };
    let (wide, deep, _) = shared.size();
    builder.report(
        Finding::new(
            &ROOM_CLASH,
            room.span,
            format!(
                "room `{}` stands {} by {} deep in room `{name}`",
                room.name,
                trade_length(wide),
                trade_length(deep)
            ),
            "correct the corner or the size of one of them",
        )
        .label(span, "the other room"),
    );
}

/// Rooms name the rooms that serve them; those may be written later.
pub(super) fn settle(builder: &mut Builder<'_>) {
    let named: Vec<Spanned<String>> = builder
        .model
        .house
        .rooms
        .values()
        .filter_map(|room| room.served_by.clone())
        .collect();
    for name in &named {
        builder.expect(&["room"], name);
    }
}

fn footprint(builder: &mut Builder<'_>, entry: &Entry, story: &Story) -> Option<Extent> {
    let corner = entry.child("corner")?;
    let size = entry.child("size")?;
    let (x, y) = (
        builder.length(corner, "x")?.value,
        builder.length(corner, "y")?.value,
    );
    let (wide, deep) = (
        builder.size(size, "x")?.value,
        builder.size(size, "y")?.value,
    );
    let base = entry
        .child("base")
        .and_then(|c| builder.length(c, "base"))
        .map_or(Length::ZERO, |base| base.value);
    let tall = entry
        .child("height")
        .and_then(|c| builder.size(c, "height"))
        .map_or(story.ceiling - base, |height| height.value);
    let low = Point::new(x, y, story.floor + base);
    Some(Extent::between(
        low,
        Point::new(x + wide, y + deep, low.z + tall),
    ))
}

fn wall_box(builder: &mut Builder<'_>, entry: &Entry, story: &Story) -> Option<Extent> {
    let from = entry.child("from")?;
    let (x, y) = (
        builder.length(from, "x")?.value,
        builder.length(from, "y")?.value,
    );
    let (x2, y2) = (
        builder.length(from, "x2")?.value,
        builder.length(from, "y2")?.value,
    );
    let thick = entry
        .child("thick")
        .and_then(|c| builder.size(c, "thick"))
        .map_or(Length::sixteenths(72), |t| t.value);
    let tall = entry
        .child("height")
        .and_then(|c| builder.size(c, "height"))
        .map_or(story.ceiling, |h| h.value);
    let half = thick.half();
    let flat = Extent::between(
        Point::new(x, y, story.floor),
        Point::new(x2, y2, story.floor + tall),
    );
    let grown = flat.grown(half);
    Some(Extent {
        low: Point::new(grown.low.x, grown.low.y, flat.low.z),
        high: Point::new(grown.high.x, grown.high.y, flat.high.z),
    })
}

pub(super) fn solid(builder: &mut Builder<'_>, entry: &Entry, kind: SolidKind) {
    let Some(name) = entry.text("name").known() else {
        return;
    };
    if !builder.enter(kind.word(), &name) {
        return;
    }
    let Some(story) = story_of(builder, entry, "story") else {
        return;
    };
    let extent = if kind == SolidKind::Wall {
        wall_box(builder, entry, &story)
    } else {
        footprint(builder, entry, &story)
    };
    let clearance = entry
        .child("clearance")
        .and_then(|c| builder.length(c, "clearance"))
        .map_or(Length::ZERO, |clearance| clearance.value);
    let Some(extent) = extent else { return };
    builder.model.house.solids.push(Solid {
        kind,
        name: name.value,
        story: story.name,
        extent: Extent {
            low: Point::new(
                extent.low.x - clearance,
                extent.low.y - clearance,
                extent.low.z,
            ),
            high: Point::new(
                extent.high.x + clearance,
                extent.high.y + clearance,
                extent.high.z,
            ),
        },
        clearance,
        removable: entry.child("removable").is_some(),
        span: entry.span,
    });
}

pub(super) fn roof(builder: &mut Builder<'_>, entry: &Entry) -> Option<()> {
    let name = entry.text("name").known()?;
    builder.enter("roof-plane", &name).then_some(())?;
    let story = story_of(builder, entry, "story")?;
    let edge = entry.child("edge")?;
    let height = entry
        .child("height")
        .and_then(|c| builder.length(c, "height"))
        .map_or(Length::ZERO, |height| height.value);
    let z = story.floor + height;
    let (x, y) = (
        builder.length(edge, "x")?.value,
        builder.length(edge, "y")?.value,
    );
    let (x2, y2) = (
        builder.length(edge, "x2")?.value,
        builder.length(edge, "y2")?.value,
    );
    let rises = entry.child("rises")?;
    let slope = rises.amount("slope").known()?.value.slope()?;
    let toward = Direction::named(&rises.text("direction").known()?.value)?;
    builder.model.house.roofs.push(Roof {
        name: name.value,
        story: story.name,
        edge: Point::new(x, y, z),
        edge_end: Point::new(x2, y2, z),
        slope,
        toward,
        span: entry.span,
    });
    Some(())
}

pub(super) fn hatch(builder: &mut Builder<'_>, entry: &Entry) -> Option<()> {
    let name = entry.text("name").known()?;
    builder.enter("attic-access", &name).then_some(())?;
    let story = story_of(builder, entry, "story")?;
    let center = entry.child("center")?;
    let size = entry.child("size")?;
    let center = Point::new(
        builder.length(center, "x")?.value,
        builder.length(center, "y")?.value,
        story.floor,
    );
    let clear = (builder.size(size, "x")?, builder.size(size, "y")?);
    let hatch = Hatch {
        name: name.value.clone(),
        story: story.name,
        center,
        clear,
        span: entry.span,
    };
    builder.model.house.hatches.insert(name.value, hatch);
    Some(())
}

pub(super) fn path(builder: &mut Builder<'_>, entry: &Entry) -> Option<()> {
    let name = entry.text("name").known()?;
    builder.enter("access-path", &name).then_some(())?;
    let from = entry.text("hatch").known()?;
    let to = entry.text("unit").known()?;
    let known = builder.expect(&["attic-access", "door", "stair", "room", "story"], &from)
        & builder.expect(&["air-handler", "boiler"], &to);
    let clear = entry.child("clear")?;
    let clear = (
        builder.size(clear, "width")?,
        builder.size(clear, "height")?,
    );
    let length = entry
        .child("length")
        .and_then(|c| builder.length(c, "length"));
    let floored = entry
        .child("floored")
        .and_then(|c| builder.length(c, "width"));
    if known {
        builder.model.house.paths.push(Path {
            name: name.value,
            from,
            to,
            length,
            clear,
            floored,
            span: entry.span,
        });
    }
    Some(())
}
