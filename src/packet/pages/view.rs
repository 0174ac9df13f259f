//! Two axes of the house laid on a drawing to scale.

use crate::model::{Extent, Point as HousePoint};
use crate::packet::scene::{Area, Point, Scale};
use crate::quantity::Length;

/// What is seen: the house from above, or from one side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Look {
    /// From above: east to the right, north up.
    Above,
    /// Toward north: east to the right.
    North,
    /// Toward west: north to the right.
    West,
}

impl Look {
    fn flat(self, point: HousePoint) -> (Length, Length) {
        match self {
            Self::Above => (point.x, point.y),
            Self::North => (point.x, point.z),
            Self::West => (point.y, point.z),
        }
    }
}

/// Where things of the house stand on the drawing.
#[derive(Clone, Copy, Debug)]
pub(super) struct View {
    look: Look,
    scale: Scale,
    left: Length,
    top: Length,
    corner: Point,
}

/// Room around the thing drawn, in points.
#[derive(Clone, Copy, Debug)]
pub(super) struct Margins {
    pub(super) left: f64,
    pub(super) right: f64,
    pub(super) top: f64,
    pub(super) bottom: f64,
}

impl View {
    /// All of `extent`, at the largest scale that leaves the margins within `widest` by `highest` points.
    pub(super) fn of(
        look: Look,
        extent: Extent,
        widest: f64,
        highest: f64,
        around: Margins,
    ) -> Self {
        let (left, bottom) = look.flat(extent.low);
        let (right, top) = look.flat(extent.high);
        let scale = Scale::fit(
            right - left,
            top - bottom,
            widest - around.left - around.right,
            highest - around.top - around.bottom,
        );
        Self {
            look,
            scale,
            left,
            top,
            corner: Point::at(around.left, around.top),
        }
    }

    /// The scale.
    pub(super) const fn scale(&self) -> Scale {
        self.scale
    }

    /// Points on paper for a length.
    pub(super) fn points(&self, length: Length) -> f64 {
        self.scale.points(length)
    }

    /// Where a point of the house stands.
    pub(super) fn at(&self, point: HousePoint) -> Point {
        let (across, up) = self.look.flat(point);
        self.corner.moved(
            self.scale.points(across - self.left),
            self.scale.points(self.top - up),
        )
    }

    /// Where a box of the house stands.
    pub(super) fn area(&self, extent: Extent) -> Area {
        Area::around(self.at(extent.low), self.at(extent.high))
    }
}

/// The box around everything in `parts`.
pub(super) fn around(parts: impl IntoIterator<Item = Extent>) -> Option<Extent> {
    parts.into_iter().reduce(|a, b| Extent {
        low: HousePoint::new(
            a.low.x.min(b.low.x),
            a.low.y.min(b.low.y),
            a.low.z.min(b.low.z),
        ),
        high: HousePoint::new(
            a.high.x.max(b.high.x),
            a.high.y.max(b.high.y),
            a.high.z.max(b.high.z),
        ),
    })
}
