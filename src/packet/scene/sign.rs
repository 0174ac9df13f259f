//! Scale bar and north arrow.

use super::drawing::{Lettering, Scene};
use super::scale::Scale;
use super::shape::{Area, Fill, Pen, Point};
use crate::figures::Figure;
use crate::packet::font::Weight;
use crate::packet::text::{Text, say};
use crate::quantity::Length;

impl Scene {
    /// A bar of four equal parts from `at` to the right, each the roundest length near an inch, its ends marked.
    pub fn scale_bar(&mut self, at: Point, scale: Scale) {
        let part = [1, 2, 5, 10, 20, 50]
            .into_iter()
            .map(Length::feet)
            .find(|part| scale.points(*part) >= 24.0)
            .unwrap_or(Length::feet(100));
        let wide = scale.points(part);
        let mut left = at.x;
        for n in 0..4_i64 {
            let fill = if n % 2 == 0 { Fill::Black } else { Fill::White };
            self.rectangle(Area::new(left, at.y, wide, 5.0), Pen::THIN, fill);
            left += wide;
        }
        for (n, id) in [
            (0, "drawing.bar.start"),
            (2, "drawing.bar.middle"),
            (4, "drawing.bar.end"),
        ] {
            let mark = Figure::length(id, part * n).source("geometry");
            let x = at.x + wide * n as f64;
            self.text(
                Point::at(x, at.y + 16.0),
                Lettering::LABEL,
                Text::figure(&mark),
            );
        }
        self.keep_clear(Area::new(at.x - 12.0, at.y - 4.0, wide * 4.0 + 40.0, 24.0));
    }

    /// An arrow around `middle` that points to plan north, `turned` degrees clockwise from up.
    pub fn north(&mut self, middle: Point, turned: f64) {
        let angle = turned.to_radians();
        let (sin, cos) = (libm::sin(angle), libm::cos(angle));
        let place = |x: f64, y: f64| middle.moved(x * cos - y * sin, x * sin + y * cos);
        self.circle(middle, 16.0, Pen::THIN, Fill::White);
        let (tip, left, tail, right) = (
            place(0.0, -15.0),
            place(-6.0, 9.0),
            place(0.0, 5.0),
            place(6.0, 9.0),
        );
        self.outline([tip, left, tail], Pen::THIN, Fill::Black);
        self.outline([tip, right, tail], Pen::THIN, Fill::White);
        let label = place(0.0, -23.0).moved(0.0, 4.0);
        let bold = Lettering {
            weight: Weight::Bold,
            ..Lettering::LABEL
        };
        self.text(label, bold, say("drawing.north"));
        self.keep_clear(Area::new(middle.x - 28.0, middle.y - 28.0, 56.0, 56.0));
    }
}
