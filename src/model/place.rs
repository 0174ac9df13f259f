//! Points, directions and boxes in the house: x east, y north, z up, from the origin of the lowest floor.

use crate::quantity::Length;

/// A point in the house.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Point {
    /// East of the origin.
    pub x: Length,
    /// North of the origin.
    pub y: Length,
    /// Above the floor of the lowest story.
    pub z: Length,
}

impl Point {
    /// A point.
    pub const fn new(x: Length, y: Length, z: Length) -> Self {
        Self { x, y, z }
    }

    /// `length` further in `direction`.
    pub fn toward(self, direction: Direction, length: Length) -> Self {
        let (x, y, z) = direction.unit();
        Self {
            x: self.x + length * x,
            y: self.y + length * y,
            z: self.z + length * z,
        }
    }

    /// The straight distance to `other`.
    pub fn distance(self, other: Self) -> Length {
        Length::diagonal(self.x - other.x, self.y - other.y, self.z - other.z)
    }

    /// The straight distance on plan.
    pub fn plan_distance(self, other: Self) -> Length {
        Length::diagonal(self.x - other.x, self.y - other.y, Length::ZERO)
    }
}

/// One of the six ways to go.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Direction {
    /// Toward plan north.
    North,
    /// Toward plan south.
    South,
    /// Toward plan east.
    East,
    /// Toward plan west.
    West,
    /// Straight up.
    Up,
    /// Straight down.
    Down,
}

impl Direction {
    /// The direction that the language calls `word`.
    pub fn named(word: &str) -> Option<Self> {
        Some(match word {
            "north" => Self::North,
            "south" => Self::South,
            "east" => Self::East,
            "west" => Self::West,
            "up" => Self::Up,
            "down" => Self::Down,
            _ => return None,
        })
    }

    /// Its word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::North => "north",
            Self::South => "south",
            Self::East => "east",
            Self::West => "west",
            Self::Up => "up",
            Self::Down => "down",
        }
    }

    /// Its unit steps in x, y and z.
    pub const fn unit(self) -> (i64, i64, i64) {
        match self {
            Self::North => (0, 1, 0),
            Self::South => (0, -1, 0),
            Self::East => (1, 0, 0),
            Self::West => (-1, 0, 0),
            Self::Up => (0, 0, 1),
            Self::Down => (0, 0, -1),
        }
    }

    /// The other way.
    pub const fn opposite(self) -> Self {
        match self {
            Self::North => Self::South,
            Self::South => Self::North,
            Self::East => Self::West,
            Self::West => Self::East,
            Self::Up => Self::Down,
            Self::Down => Self::Up,
        }
    }

    /// To the left of somebody who looks this way on plan; up and down have none and stay.
    pub const fn left(self) -> Self {
        match self {
            Self::North => Self::West,
            Self::West => Self::South,
            Self::South => Self::East,
            Self::East => Self::North,
            other => other,
        }
    }

    /// Whether it is level.
    pub const fn is_level(self) -> bool {
        !matches!(self, Self::Up | Self::Down)
    }
}

/// A box with its sides along the axes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Extent {
    /// The corner with the smallest coordinates.
    pub low: Point,
    /// The corner with the largest coordinates.
    pub high: Point,
}

impl Extent {
    /// The box between any two opposite corners.
    pub fn between(a: Point, b: Point) -> Self {
        Self {
            low: Point::new(a.x.min(b.x), a.y.min(b.y), a.z.min(b.z)),
            high: Point::new(a.x.max(b.x), a.y.max(b.y), a.z.max(b.z)),
        }
    }

    /// Grown by `by` on every side.
    pub fn grown(self, by: Length) -> Self {
        let grow = Point::new(by, by, by);
        Self {
            low: Point::new(
                self.low.x - grow.x,
                self.low.y - grow.y,
                self.low.z - grow.z,
            ),
            high: Point::new(
                self.high.x + grow.x,
                self.high.y + grow.y,
                self.high.z + grow.z,
            ),
        }
    }

    /// The common part of two boxes, if they share more than a face.
    pub fn overlap(&self, other: &Self) -> Option<Self> {
        let low = Point::new(
            self.low.x.max(other.low.x),
            self.low.y.max(other.low.y),
            self.low.z.max(other.low.z),
        );
        let high = Point::new(
            self.high.x.min(other.high.x),
            self.high.y.min(other.high.y),
            self.high.z.min(other.high.z),
        );
        (low.x < high.x && low.y < high.y && low.z < high.z).then_some(Self { low, high })
    }

    /// Whether a point lies in it or on its faces.
    pub fn holds(&self, point: Point) -> bool {
        self.low.x <= point.x
            && point.x <= self.high.x
            && self.low.y <= point.y
            && point.y <= self.high.y
            && self.low.z <= point.z
            && point.z <= self.high.z
    }

    /// How far beside it on plan a point lies, the shortest way; zero above or below it.
    pub fn beside(&self, point: Point) -> Length {
        let out =
            |low: Length, at: Length, high: Length| (low - at).max(at - high).max(Length::ZERO);
        let x = out(self.low.x, point.x, self.high.x);
        let y = out(self.low.y, point.y, self.high.y);
        if x == Length::ZERO || y == Length::ZERO {
            return x + y;
        }
        Length::nearest(libm::hypot(x.to_inches(), y.to_inches()))
    }

    /// Its sizes along x, y and z.
    pub fn size(&self) -> (Length, Length, Length) {
        (
            self.high.x - self.low.x,
            self.high.y - self.low.y,
            self.high.z - self.low.z,
        )
    }

    /// Its middle.
    pub fn center(&self) -> Point {
        let (x, y, z) = self.size();
        Point::new(
            self.low.x + x.half(),
            self.low.y + y.half(),
            self.low.z + z.half(),
        )
    }
}
