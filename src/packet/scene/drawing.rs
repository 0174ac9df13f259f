//! The drawing itself: what was put on it, in order.

use super::shape::{Anchor, Area, Fill, Pen, Point};
use crate::packet::font::Weight;
use crate::packet::text::{Text, Words};

/// How a text on a drawing looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lettering {
    /// Height of the letters in points.
    pub size: f64,
    /// How heavy.
    pub weight: Weight,
    /// Which part of it stands at its place.
    pub anchor: Anchor,
    /// Turned against the clock, in quarter turns.
    pub quarter_turns: u8,
}

impl Lettering {
    /// The usual label.
    pub const LABEL: Self = Self {
        size: 10.0,
        weight: Weight::Regular,
        anchor: Anchor::Middle,
        quarter_turns: 0,
    };
    /// The name of a room or thing.
    pub const NAME: Self = Self {
        size: 12.0,
        weight: Weight::Bold,
        ..Self::LABEL
    };

    /// The same, held at `anchor`.
    pub const fn anchored(self, anchor: Anchor) -> Self {
        Self { anchor, ..self }
    }

    /// The same, `size` points high.
    pub const fn sized(self, size: f64) -> Self {
        Self { size, ..self }
    }

    /// The same, read from below.
    pub const fn upward(self) -> Self {
        Self {
            quarter_turns: 1,
            ..self
        }
    }
}

#[derive(Clone, Debug, PartialEq)]
pub(super) enum Element {
    Path {
        points: Vec<Point>,
        closed: bool,
        pen: Pen,
        fill: Fill,
    },
    Circle {
        middle: Point,
        radius: f64,
        pen: Pen,
        fill: Fill,
    },
    Text {
        at: Point,
        lettering: Lettering,
        text: Text,
    },
}

#[derive(Clone, Debug, PartialEq)]
pub(super) struct Leader {
    pub target: Point,
    pub text: Text,
    pub lettering: Lettering,
}

/// A drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    pub(super) width: f64,
    pub(super) height: f64,
    pub(super) elements: Vec<Element>,
    pub(super) leaders: Vec<Leader>,
    pub(super) solid: Vec<Area>,
}

impl Scene {
    /// The widest drawing that an upright page of either paper holds, in points.
    pub const WIDEST: f64 = 500.0;
    /// The highest drawing that leaves an upright page room for its title, in points.
    pub const HIGHEST: f64 = 560.0;
    /// The widest drawing of a page laid on its side, in points.
    pub const WIDEST_SIDEWAYS: f64 = 690.0;
    /// The highest drawing of a page laid on its side, in points.
    pub const HIGHEST_SIDEWAYS: f64 = 400.0;

    /// An empty drawing of this size in points.
    pub const fn new(width: f64, height: f64) -> Self {
        Self {
            width,
            height,
            elements: Vec::new(),
            leaders: Vec::new(),
            solid: Vec::new(),
        }
    }

    /// Its size in points.
    pub const fn area(&self) -> Area {
        Area::new(0.0, 0.0, self.width, self.height)
    }

    /// A straight line.
    pub fn line(&mut self, from: Point, to: Point, pen: Pen) {
        self.path([from, to], pen);
    }

    /// A line through several points.
    pub fn path(&mut self, points: impl IntoIterator<Item = Point>, pen: Pen) {
        self.elements.push(Element::Path {
            points: points.into_iter().collect(),
            closed: false,
            pen,
            fill: Fill::None,
        });
    }

    /// A closed outline.
    pub fn outline(&mut self, points: impl IntoIterator<Item = Point>, pen: Pen, fill: Fill) {
        self.elements.push(Element::Path {
            points: points.into_iter().collect(),
            closed: true,
            pen,
            fill,
        });
    }

    /// A rectangle.
    pub fn rectangle(&mut self, area: Area, pen: Pen, fill: Fill) {
        let Area {
            corner,
            width,
            height,
        } = area;
        let corners = [
            corner,
            corner.moved(width, 0.0),
            corner.moved(width, height),
            corner.moved(0.0, height),
        ];
        self.outline(corners, pen, fill);
    }

    /// A circle.
    pub fn circle(&mut self, middle: Point, radius: f64, pen: Pen, fill: Fill) {
        self.elements.push(Element::Circle {
            middle,
            radius,
            pen,
            fill,
        });
    }

    /// A text whose base line begins, ends or is centred at `at`.
    pub fn text(&mut self, at: Point, lettering: Lettering, text: impl Into<Text>) {
        self.elements.push(Element::Text {
            at,
            lettering,
            text: text.into(),
        });
    }

    /// A label with a line to the thing at `target`; its place is found when the drawing is written.
    pub fn leader(&mut self, target: Point, text: impl Into<Text>) {
        self.leaders.push(Leader {
            target,
            text: text.into(),
            lettering: Lettering::LABEL,
        });
    }

    /// Keeps labels off an area.
    pub fn keep_clear(&mut self, area: Area) {
        self.solid.push(area);
    }

    /// Visits every text on it.
    pub fn each_text(&self, visit: &mut dyn FnMut(&Text)) {
        for element in &self.elements {
            if let Element::Text { text, .. } = element {
                visit(text);
            }
        }
        self.leaders.iter().for_each(|leader| visit(&leader.text));
    }

    /// Its words in the order in which they were put down, for those who cannot see it.
    pub fn alternative(&self, words: &Words) -> String {
        let mut all = Vec::new();
        self.each_text(&mut |text| all.push(text.plain(words)));
        all.join("; ")
    }
}
