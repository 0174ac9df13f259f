//! Dimension lines: two witness lines, a line with a stroke at both ends, the length above it.

use super::drawing::{Lettering, Scene};
use super::shape::{Anchor, Pen, Point};
use crate::packet::font::text_width;
use crate::packet::text::{Text, Words};

/// Half of the slanting stroke at each end, in points.
const STROKE: f64 = 3.5;
/// How far witness lines stand off the thing and reach past the line, in points.
const GAP: f64 = 2.0;

impl Scene {
    /// The distance from `from` to `to`, drawn `off` points to the left of that way (negative: to the right).
    pub fn dimension(&mut self, from: Point, to: Point, off: f64, text: impl Into<Text>) {
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let long = libm::hypot(dx, dy);
        if long < 1e-6 {
            return;
        }
        // Left of the way, with y down.
        let (nx, ny) = (dy / long, -dx / long);
        let side = off.signum();
        let end = |at: Point, by: f64| at.moved(nx * by, ny * by);
        for at in [from, to] {
            self.line(end(at, GAP * side), end(at, off + GAP * side), Pen::THIN);
        }
        let (a, b) = (end(from, off), end(to, off));
        self.line(a, b, Pen::THIN);
        for at in [a, b] {
            self.line(
                at.moved(-STROKE, STROKE),
                at.moved(STROKE, -STROKE),
                Pen::MEDIUM,
            );
        }
        let text = text.into();
        let label = Lettering::LABEL;
        // Dimensions are figures, and a figure is as wide in every language.
        let wide = text_width(&text.plain(Words::english()), label.weight, label.size);
        let middle = Point::at(f64::midpoint(a.x, b.x), f64::midpoint(a.y, b.y));
        let upright = dy.abs() > dx.abs();
        let short = wide + 4.0 > long;
        match (upright, short) {
            (true, false) => self.text(middle.moved(-3.5, 0.0), label.upward(), text),
            (false, false) => self.text(middle.moved(0.0, -3.5), label, text),
            // Too short for its words: they stand outside, level.
            (true, true) => self.text(middle.moved(-6.0, 3.5), label.anchored(Anchor::End), text),
            (false, true) => {
                let right = a.x.max(b.x);
                let at = Point::at(right + 6.0, middle.y + 3.5);
                self.text(at, label.anchored(Anchor::Start), text);
            }
        }
    }
}
