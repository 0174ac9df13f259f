//! Supply outlets: on which surface of a room, and where in the house.

use crate::language::{Entry, Value};
use crate::quantity::{Length, trade_length};
use crate::source::{Finding, Span, Spanned};

use super::builder::Builder;
use super::mistakes::OUTSIDE_ROOM;
use super::place::{Direction, Extent, Point};
use super::room::Room;

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

pub(super) fn outlet(
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
                Value::Word(word) => Direction::named(word),
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
