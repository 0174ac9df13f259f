//! Axes of a chart of pressure against flow: round steps, and where a point of it stands on paper.

use crate::figures::Figure;
use crate::packet::scene::{Anchor, Area, Fill, Lettering, Pen, Point, Scene};
use crate::packet::text::{Text, say};
use crate::quantity::Dimension;

/// Room for numbers and words at the left and below, and to the right and above, in points.
const LEFT: f64 = 52.0;
const BELOW: f64 = 38.0;
const EDGE: f64 = 12.0;

/// Both axes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Axes {
    inner: Area,
    most: (f64, f64),
    step: (f64, f64),
}

/// A step of 1, 2, 2.5 or 5 with zeros, so that about `parts` of them make `most`.
fn round_step(most: f64, parts: f64) -> f64 {
    let wanted = (most / parts).max(1e-9);
    let ten = libm::pow(10.0, libm::floor(libm::log10(wanted)));
    let fits = |step: &f64| *step * ten >= wanted * 0.999_999;
    [1.0, 2.0, 2.5, 5.0].into_iter().find(fits).unwrap_or(10.0) * ten
}

impl Axes {
    /// Axes from zero to at least `flow` and `pressure` on a drawing of this size.
    pub(super) fn over(scene: &Scene, flow: f64, pressure: f64) -> Self {
        let whole = scene.area();
        let inner = Area::new(
            LEFT,
            EDGE,
            whole.width - LEFT - EDGE,
            whole.height - EDGE - BELOW,
        );
        let step = (round_step(flow, 7.0), round_step(pressure, 6.0));
        let up = |most: f64, step: f64| libm::ceil(most / step - 1e-9).max(1.0) * step;
        Self {
            inner,
            most: (up(flow, step.0), up(pressure, step.1)),
            step,
        }
    }

    /// Where a flow and a pressure stand.
    pub(super) fn at(&self, flow: f64, pressure: f64) -> Point {
        let across = self.inner.width * flow / self.most.0;
        let up = self.inner.height * pressure / self.most.1;
        self.inner.corner.moved(across, self.inner.height - up)
    }

    /// The flow and the pressure at the far ends.
    pub(super) const fn ends(&self) -> (f64, f64) {
        self.most
    }

    /// Lines, numbers and units.
    pub(super) fn draw(&self, scene: &mut Scene, name: &str) {
        let steps = |most: f64, step: f64| {
            (0_u32..40)
                .map(move |n| (n, libm::round(step * f64::from(n) * 1e6) / 1e6))
                .take_while(move |(_, value)| *value <= most * 1.000_001)
        };
        for (n, flow) in steps(self.most.0, self.step.0) {
            let (low, high) = (self.at(flow, 0.0), self.at(flow, self.most.1));
            scene.line(low, high, Pen::solid(0.3));
            let figure = Figure::number(format!("drawing.{name}.flow-{n}"), flow, Dimension::Count);
            scene.text(
                low.moved(0.0, 14.0),
                Lettering::LABEL,
                Text::figure(&figure),
            );
        }
        for (n, pressure) in steps(self.most.1, self.step.1) {
            let (left, right) = (self.at(0.0, pressure), self.at(self.most.0, pressure));
            scene.line(left, right, Pen::solid(0.3));
            let id = format!("drawing.{name}.pressure-{n}");
            let figure = Figure::number(id, pressure, Dimension::Count);
            let lettering = Lettering::LABEL.anchored(Anchor::End);
            scene.text(left.moved(-5.0, 3.5), lettering, Text::figure(&figure));
        }
        scene.rectangle(self.inner, Pen::MEDIUM, Fill::None);
        let below = Point::at(self.inner.middle().x, scene.area().height - 6.0);
        scene.text(below, Lettering::LABEL, say("fan.flow-axis"));
        let beside = Point::at(13.0, self.inner.middle().y);
        scene.text(beside, Lettering::LABEL.upward(), say("fan.pressure-axis"));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_round_and_ends_hold_what_is_asked() {
        assert!((round_step(1121.0, 7.0) - 200.0).abs() < 1e-9);
        assert!((round_step(2.4, 6.0) - 0.5).abs() < 1e-9);
        let axes = Axes::over(&Scene::new(400.0, 300.0), 1121.0, 2.4);
        assert!((axes.ends().0 - 1200.0).abs() < 1e-9 && (axes.ends().1 - 2.5).abs() < 1e-9);
        let (low, high) = (axes.at(0.0, 0.0), axes.at(1200.0, 2.5));
        assert!(low.x < high.x && low.y > high.y, "pressure grows upward");
    }
}
