//! Air handlers placed and turned: cabinet, ports and service spaces in the house.

use std::sync::Arc;

use crate::catalog::{AirHandler as Sheet, Side, TrunkHere};
use crate::language::Entry;
use crate::quantity::Length;
use crate::source::{Span, Spanned};

use super::builder::Builder;
use super::equipment::model_of;
use super::place::{Direction, Extent, Point};
use super::sheet_word::known_words;
use super::story::story_of;

/// A port in the house.
#[derive(Clone, Debug)]
pub struct PlacedPort {
    /// Its name on the unit (`supply`).
    pub name: &'static str,
    /// Its middle.
    pub point: Point,
    /// The way it opens.
    pub facing: Direction,
    /// Where the catalog states it.
    pub span: Span,
}

/// A service space in the house.
#[derive(Clone, Debug)]
pub struct PlacedSpace {
    /// What it is for.
    pub reason: String,
    /// Its box.
    pub extent: Extent,
    /// Whether the trunk may stand in it.
    pub trunk: TrunkHere,
    /// Where the catalog states it.
    pub span: Span,
}

/// An air handler in the house.
#[derive(Clone, Debug)]
pub struct AirHandler {
    /// Its name.
    pub name: String,
    /// Its model.
    pub model: Spanned<String>,
    /// What the catalog says of the model.
    pub sheet: Arc<Sheet>,
    /// Its story.
    pub story: String,
    /// Its cabinet; none while its size or place is not known.
    pub cabinet: Option<Extent>,
    /// Its underside above the lowest floor.
    pub base: Length,
    /// Height of its underside above its story's floor, and the words that say so.
    pub stand: Option<Spanned<Length>>,
    /// Whether it hangs there instead of standing.
    pub hung: bool,
    /// The way its discharge end (the front) faces.
    pub discharge: Direction,
    /// Its ports.
    pub ports: Vec<PlacedPort>,
    /// Its service spaces.
    pub spaces: Vec<PlacedSpace>,
    /// The speed tap.
    pub tap: Option<Spanned<String>>,
    /// The speed tap of the first stage, where it has its own.
    pub first_stage_tap: Option<Spanned<String>>,
    /// The voltage setting, where said.
    pub setting: Option<Spanned<String>>,
    /// Jumpers between power terminals, with their statements.
    pub jumpers: Vec<(Spanned<String>, Spanned<String>, Span)>,
    /// Optional parts that are fitted.
    pub fitted: Vec<Spanned<String>>,
    /// Measured suction at the pan, in. w.c.
    pub suction: Option<Spanned<f64>>,
    /// Measured pressure at the pan, in. w.c., where the blower presses through the coil.
    pub pressure: Option<Spanned<f64>>,
    /// Its head.
    pub span: Span,
    /// Its whole block.
    pub whole: Span,
    /// Whether part of it was misread.
    pub flawed: bool,
}

impl AirHandler {
    /// The port called `name`.
    pub fn port(&self, name: &str) -> Option<&PlacedPort> {
        self.ports.iter().find(|port| port.name == name)
    }
}

const fn turned(side: Side, front: Direction) -> Direction {
    match side {
        Side::Front => front,
        Side::Back => front.opposite(),
        Side::Left => front.left(),
        Side::Right => front.left().opposite(),
        Side::Top => Direction::Up,
        Side::Bottom => Direction::Down,
    }
}

/// The cabinet's axes in the house.
struct Frame {
    corner: Point,
    front: Direction,
}

impl Frame {
    fn point(&self, x: Length, y: Length, z: Length) -> Point {
        self.corner
            .toward(self.front, x)
            .toward(self.front.left(), y)
            .toward(Direction::Up, z)
    }
}

pub(super) fn air_handler(builder: &mut Builder<'_>, entry: &Entry) {
    let Some(name) = entry.text("name").known() else {
        return;
    };
    if !builder.enter("air-handler", &name) {
        return;
    }
    let story = entry
        .child("on")
        .and_then(|child| story_of(builder, child, "story"));
    let model = model_of(builder, entry);
    let shelf = &builder.catalog.air_handlers;
    let sheet = model
        .as_ref()
        .and_then(|model| builder.sheet("air handler", shelf, model))
        .map(|sheet| Arc::new(sheet.clone()));
    let center = entry
        .child("center")
        .and_then(|c| builder.lengths(c, ["x", "y"]));
    let discharge = entry
        .child("discharge")
        .and_then(|c| c.text("direction").known())
        .and_then(|word| Direction::named(&word.value));
    let raised = entry.child("stand").or_else(|| entry.child("hung"));
    let stand = raised.and_then(|c| builder.length(c, "height"));
    // A height that is not known leaves the cabinet without a place.
    let center = center.filter(|_| raised.is_none() || stand.is_some());
    let (Some(model), Some(sheet), Some(story), Some(discharge)) = (model, sheet, story, discharge)
    else {
        builder.half_known("air-handler", &name.value);
        return;
    };
    let base = story.floor + stand.map_or(Length::ZERO, |stand| stand.value);
    let frame = sheet.size.get().zip(center).map(|(size, [x, y])| {
        let middle = Point::new(x.value, y.value, base);
        let corner = middle
            .toward(discharge.opposite(), size.length.half())
            .toward(discharge.left().opposite(), size.width.half());
        (
            Frame {
                corner,
                front: discharge,
            },
            size,
        )
    });
    let (mut ports, mut spaces, mut cabinet) = (Vec::new(), Vec::new(), None);
    if let Some((frame, size)) = &frame {
        cabinet = Some(Extent::between(
            frame.corner,
            frame.point(size.length, size.width, size.height),
        ));
        for (port_name, port) in sheet.ports.iter() {
            if let (Some(place), Some(facing)) = (port.place.get(), port.facing.get()) {
                ports.push(PlacedPort {
                    name: port_name,
                    point: frame.point(place.x, place.y, place.z),
                    facing: turned(facing, discharge),
                    span: port.place.span,
                });
            }
        }
        for space in &sheet.service_spaces {
            if let (Some(from), Some(size), Some(reason)) =
                (space.from.get(), space.size.get(), space.for_what.get())
            {
                let low = frame.point(from.x, from.y, from.z);
                let high = frame.point(
                    from.x + size.length,
                    from.y + size.width,
                    from.z + size.height,
                );
                spaces.push(PlacedSpace {
                    reason,
                    extent: Extent::between(low, high),
                    trunk: space.trunk.get().unwrap_or(TrunkHere::KeptOut),
                    span: space.span,
                });
            }
        }
    }
    let unit = AirHandler {
        name: name.value.clone(),
        model,
        sheet,
        story: story.name,
        cabinet,
        base,
        stand,
        hung: entry.child("stand").is_none() && entry.child("hung").is_some(),
        discharge,
        ports,
        spaces,
        tap: entry.child("tap").and_then(|c| c.text("tap").known()),
        first_stage_tap: entry
            .child("first-stage-tap")
            .and_then(|c| c.text("tap").known()),
        setting: entry
            .child("voltage-setting")
            .and_then(|c| c.text("setting").known()),
        jumpers: entry
            .children("jumper")
            .filter_map(|c| Some((c.text("from").known()?, c.text("to").known()?, c.span)))
            .collect(),
        fitted: entry
            .children("fitted")
            .filter_map(|c| c.text("part").known())
            .collect(),
        suction: entry
            .child("suction")
            .and_then(|c| builder.real(c, "suction")),
        pressure: entry
            .child("pan-pressure")
            .and_then(|c| builder.real(c, "pressure")),
        span: entry.span,
        whole: entry.whole,
        flawed: entry.flawed || entry.body_flawed,
    };
    known_words(builder, &unit);
    builder.model.air_handlers.insert(name.value, unit);
}
