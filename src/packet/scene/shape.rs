//! Points, areas, pens and fills.

/// A place on the drawing, in points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

impl Point {
    /// The place `x` to the right and `y` down.
    pub const fn at(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// Moved by `dx` and `dy`.
    pub fn moved(self, dx: f64, dy: f64) -> Self {
        Self::at(self.x + dx, self.y + dy)
    }
}

/// An upright rectangle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    /// Upper left corner.
    pub corner: Point,
    /// To the right.
    pub width: f64,
    /// Down.
    pub height: f64,
}

impl Area {
    /// From the upper left corner.
    pub const fn new(x: f64, y: f64, width: f64, height: f64) -> Self {
        Self {
            corner: Point::at(x, y),
            width,
            height,
        }
    }

    /// Around both points.
    pub fn around(a: Point, b: Point) -> Self {
        let (x, y) = (a.x.min(b.x), a.y.min(b.y));
        Self::new(x, y, (a.x - b.x).abs(), (a.y - b.y).abs())
    }

    /// Its middle.
    pub fn middle(self) -> Point {
        self.corner.moved(self.width / 2.0, self.height / 2.0)
    }

    /// Larger by `by` on every side.
    pub fn grown(self, by: f64) -> Self {
        Self::new(
            self.corner.x - by,
            self.corner.y - by,
            self.width + 2.0 * by,
            self.height + 2.0 * by,
        )
    }

    /// The area that it shares with `other`, in square points.
    pub fn shared(self, other: Self) -> f64 {
        let wide = (self.corner.x + self.width).min(other.corner.x + other.width)
            - self.corner.x.max(other.corner.x);
        let high = (self.corner.y + self.height).min(other.corner.y + other.height)
            - self.corner.y.max(other.corner.y);
        if wide > 0.0 && high > 0.0 {
            wide * high
        } else {
            0.0
        }
    }

    /// Whether `other` lies wholly inside.
    pub fn holds(self, other: Self) -> bool {
        other.corner.x >= self.corner.x
            && other.corner.y >= self.corner.y
            && other.corner.x + other.width <= self.corner.x + self.width
            && other.corner.y + other.height <= self.corner.y + self.height
    }

    /// Whether the straight line from `a` to `b` passes through it.
    pub fn crossed_by(self, a: Point, b: Point) -> bool {
        // Liang and Barsky: the part of the line inside each pair of sides.
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        let sides = [
            (a.x - b.x, a.x - self.corner.x),
            (b.x - a.x, self.corner.x + self.width - a.x),
            (a.y - b.y, a.y - self.corner.y),
            (b.y - a.y, self.corner.y + self.height - a.y),
        ];
        for (p, q) in sides {
            if p.abs() < 1e-9 {
                if q < 0.0 {
                    return false;
                }
            } else if p < 0.0 {
                from = from.max(q / p);
            } else {
                to = to.min(q / p);
            }
        }
        from < to
    }
}

/// How a line is broken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dash {
    /// Whole.
    Solid,
    /// Hidden edges, things above.
    Dashed,
    /// Spaces to keep clear.
    Dotted,
    /// Centre lines.
    DashDot,
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pen {
    /// Width in points.
    pub width: f64,
    /// How it is broken.
    pub dash: Dash,
}

impl Pen {
    /// Dimension lines, leaders.
    pub const THIN: Self = Self::solid(0.6);
    /// Outlines.
    pub const MEDIUM: Self = Self::solid(1.2);
    /// Walls, the thing in hand.
    pub const HEAVY: Self = Self::solid(2.4);
    /// Hidden edges, things above.
    pub const HIDDEN: Self = Self::broken(0.9, Dash::Dashed);
    /// Spaces to keep clear.
    pub const CLEAR: Self = Self::broken(1.2, Dash::Dotted);
    /// Centre lines.
    pub const CENTER: Self = Self::broken(0.6, Dash::DashDot);

    /// A whole line of `width` points.
    pub const fn solid(width: f64) -> Self {
        Self::broken(width, Dash::Solid)
    }

    /// A line of `width` points, broken.
    pub const fn broken(width: f64, dash: Dash) -> Self {
        Self { width, dash }
    }
}

/// A pattern of black lines on white.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hatch {
    /// Rising lines.
    Rising,
    /// Falling lines.
    Falling,
    /// Both.
    Crossed,
    /// Dots.
    Dots,
    /// Level lines.
    Level,
}

/// What covers the inside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fill {
    /// Nothing.
    None,
    /// White, which hides what is below.
    White,
    /// Black.
    Black,
    /// A pattern.
    Hatch(Hatch),
}

/// Which part of a text stands at its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// Its left end.
    Start,
    /// Its middle.
    Middle,
    /// Its right end.
    End,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_crosses_an_area_only_where_it_passes_through() {
        let area = Area::new(10.0, 10.0, 10.0, 10.0);
        assert!(area.crossed_by(Point::at(0.0, 15.0), Point::at(30.0, 15.0)));
        assert!(!area.crossed_by(Point::at(0.0, 15.0), Point::at(9.0, 15.0)));
        assert!(!area.crossed_by(Point::at(0.0, 0.0), Point::at(30.0, 5.0)));
        assert!(area.crossed_by(Point::at(15.0, 15.0), Point::at(16.0, 16.0)));
    }

    #[test]
    fn shared_area_is_zero_at_the_edge() {
        let a = Area::new(0.0, 0.0, 10.0, 10.0);
        assert!(a.shared(Area::new(10.0, 0.0, 5.0, 5.0)).abs() < f64::EPSILON);
        assert!((a.shared(Area::new(8.0, 8.0, 5.0, 5.0)) - 4.0).abs() < 1e-12);
    }
}
