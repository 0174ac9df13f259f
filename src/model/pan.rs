//! Pans under units, in their place in the house.

use crate::language::Entry;
use crate::quantity::Length;
use crate::source::{Span, Spanned};

use super::builder::Builder;
use super::place::{Direction, Extent, Point};

/// A pan under a unit.
#[derive(Clone, Debug)]
pub struct Pan {
    /// Its name.
    pub name: String,
    /// The unit above it.
    pub unit: Spanned<String>,
    /// Its inside size east–west by north–south.
    pub size: Option<(Spanned<Length>, Spanned<Length>)>,
    /// Its depth.
    pub depth: Option<Spanned<Length>>,
    /// Its underside above the lowest floor; none while the unit has no place.
    pub base: Option<Length>,
    /// Its middle on plan, under that of the unit, at its underside.
    pub middle: Option<Point>,
    /// The stock item.
    pub item: Option<Spanned<String>>,
    /// The switch in it, by model.
    pub switch: Option<Spanned<String>>,
    /// Its head.
    pub span: Span,
    /// Its whole block.
    pub whole: Span,
    /// Whether part of it was misread.
    pub flawed: bool,
}

impl Pan {
    /// Where a drain that leaves toward `direction` starts: in the middle of that side, at the pan's bottom.
    pub fn outlet(&self, direction: Direction) -> Option<Point> {
        let ((x, y), middle) = (self.size?, self.middle?);
        let across = match direction {
            Direction::East | Direction::West => x.value.half(),
            Direction::North | Direction::South => y.value.half(),
            Direction::Up | Direction::Down => Length::ZERO,
        };
        Some(middle.toward(direction, across))
    }

    /// Its rim above the lowest floor.
    pub fn rim(&self) -> Option<Length> {
        Some(self.base? + self.depth?.value)
    }
}

fn pan(builder: &mut Builder<'_>, entry: &Entry) -> Option<Pan> {
    let (name, unit) = (entry.text("name").known()?, entry.text("unit").known()?);
    let size = entry
        .child("size")
        .and_then(|c| builder.sizes(c, ["x", "y"]))
        .map(Into::into);
    let depth = entry.child("depth").and_then(|c| builder.size(c, "depth"));
    let base = entry.child("base").map(|c| builder.length(c, "height"));
    let floor = builder.model.air_handlers.get(&unit.value).and_then(|of| {
        let story = builder.model.house.stories.get(&of.story)?;
        Some((story.floor, of.cabinet?))
    });
    let base = match (floor, base) {
        (Some((floor, _)), None) => Some(floor),
        (Some((floor, _)), Some(Some(raised))) => Some(floor + raised.value),
        _ => None,
    };
    let middle = floor.zip(base).map(|((_, cabinet), base)| {
        let center = Extent::center(&cabinet);
        Point::new(center.x, center.y, base)
    });
    Some(Pan {
        name: name.value,
        unit,
        size,
        depth,
        base,
        middle,
        item: entry.child("item").and_then(|c| builder.text(c, "item")),
        switch: entry.child("switch").and_then(|c| builder.text(c, "model")),
        span: entry.span,
        whole: entry.whole,
        flawed: entry.flawed || entry.body_flawed,
    })
}

/// All pans; their names are entered with those of all equipment.
pub(super) fn pans(builder: &mut Builder<'_>, entries: &[Entry]) {
    for entry in entries.iter().filter(|entry| entry.word.word == "pan") {
        if let Some(pan) = pan(builder, entry) {
            builder.model.pans.entry(pan.name.clone()).or_insert(pan);
        }
    }
}
