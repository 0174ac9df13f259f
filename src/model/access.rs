//! Ways in to a unit: the hatch or other access to its story, and the path from there.

use crate::language::Entry;
use crate::quantity::Length;
use crate::source::{Span, Spanned};

use super::builder::Builder;
use super::place::Point;
use super::story::story_of;

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

pub(super) fn hatch(builder: &mut Builder<'_>, entry: &Entry) -> Option<()> {
    let name = entry.text("name").known()?;
    builder.enter("attic-access", &name).then_some(())?;
    let story = story_of(builder, entry, "story")?;
    let center = entry.child("center")?;
    let size = entry.child("size")?;
    let [x, y] = builder.lengths(center, ["x", "y"])?;
    let center = Point::new(x.value, y.value, story.floor);
    let clear = builder.sizes(size, ["x", "y"])?.into();
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
    let clear = builder.sizes(clear, ["width", "height"])?.into();
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
