//! Everything solid in a story: obstacles, flues, walls, platforms, with the clearance that they ask for.

use crate::language::{Asked, Entry};
use crate::quantity::Length;
use crate::source::Span;

use super::builder::Builder;
use super::place::{Extent, Point};
use super::story::{Story, story_of};

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

fn footprint(builder: &mut Builder<'_>, entry: &Entry, story: &Story) -> Option<Extent> {
    let corner = entry.child("corner")?;
    let size = entry.child("size")?;
    let [x, y] = builder.lengths(corner, ["x", "y"])?;
    let [wide, deep] = builder.sizes(size, ["x", "y"])?;
    // A height that was misread is not the story's.
    let misread = |word: &str| {
        entry
            .child(word)
            .is_some_and(|child| child.flawed || matches!(child.length(word), Asked::Bad))
    };
    if misread("base") || misread("height") {
        return None;
    }
    let base = entry
        .child("base")
        .and_then(|c| builder.length(c, "base"))
        .map_or(Length::ZERO, |base| base.value);
    let tall = entry
        .child("height")
        .and_then(|c| builder.size(c, "height"))
        .map_or(story.ceiling - base, |height| height.value);
    let low = Point::new(x.value, y.value, story.floor + base);
    Some(Extent::between(
        low,
        Point::new(low.x + wide.value, low.y + deep.value, low.z + tall),
    ))
}

fn wall_box(builder: &mut Builder<'_>, entry: &Entry, story: &Story) -> Option<Extent> {
    let from = entry.child("from")?;
    let [x, y] = builder.lengths(from, ["x", "y"])?;
    let [x2, y2] = builder.lengths(from, ["x2", "y2"])?;
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
        Point::new(x.value, y.value, story.floor),
        Point::new(x2.value, y2.value, story.floor + tall),
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
