//! Roof planes, and the height under them.

use crate::language::Entry;
use crate::quantity::{Length, Slope};
use crate::source::Span;

use super::builder::Builder;
use super::place::{Direction, Point};
use super::story::story_of;

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
    let [x, y] = builder.lengths(edge, ["x", "y"])?;
    let [x2, y2] = builder.lengths(edge, ["x2", "y2"])?;
    let rises = entry.child("rises")?;
    let slope = rises.amount("slope").known()?.value.slope()?;
    let toward = Direction::named(&rises.text("direction").known()?.value)?;
    builder.model.house.roofs.push(Roof {
        name: name.value,
        story: story.name,
        edge: Point::new(x.value, y.value, z),
        edge_end: Point::new(x2.value, y2.value, z),
        slope,
        toward,
        span: entry.span,
    });
    Some(())
}
