//! A blower curve: straight lines between points of flow and pressure rise, never rising.

use super::Unsolvable;
use crate::quantity::{AirFlow, Pressure};

/// Pressure rise against flow.
#[derive(Clone, Debug, PartialEq)]
pub struct FanCurve {
    points: Vec<(f64, f64)>,
    /// Fall of pressure per flow outside the curve, where only the search goes.
    outside: f64,
}

impl FanCurve {
    /// From points in order of flow; a curve that rises, or turns back in flow, is refused.
    pub fn new(points: &[(AirFlow, Pressure)]) -> Result<Self, Unsolvable> {
        let points: Vec<(f64, f64)> = points
            .iter()
            .map(|(flow, rise)| (flow.value(), rise.value()))
            .collect();
        let finite = points.iter().all(|(q, p)| q.is_finite() && p.is_finite());
        let (Some(first), Some(last)) = (points.first(), points.last()) else {
            return Err(Unsolvable::CurveTooShort);
        };
        if points.len() < 2 || !finite {
            return Err(Unsolvable::CurveTooShort);
        }
        for (a, b) in points.iter().zip(points.iter().skip(1)) {
            if b.0 <= a.0 {
                return Err(Unsolvable::CurveTurnsBack(AirFlow::new(b.0)));
            }
            if b.1 > a.1 {
                return Err(Unsolvable::CurveRises(AirFlow::new(a.0), AirFlow::new(b.0)));
            }
        }
        let outside = first.1.abs().max(last.1.abs()).max(0.1) / (last.0 - first.0);
        Ok(Self { points, outside })
    }

    /// Pressure rise at a flow; none outside the curve.
    pub fn rise(&self, flow: AirFlow) -> Option<Pressure> {
        let (first, last) = self.ends();
        (first..=last)
            .contains(&flow.value())
            .then(|| Pressure::new(self.at(flow.value()).0))
    }

    /// Flows at which the curve begins and ends.
    pub(super) fn ends(&self) -> (f64, f64) {
        let flow = |point: Option<&(f64, f64)>| point.map_or(0.0, |(q, _)| *q);
        (flow(self.points.first()), flow(self.points.last()))
    }

    /// Rise and its slope at a flow, drawn on steeply outside the curve.
    pub(super) fn at(&self, flow: f64) -> (f64, f64) {
        let after = self.points.partition_point(|(q, _)| *q <= flow);
        let before = after.checked_sub(1).and_then(|at| self.points.get(at));
        match (before, self.points.get(after)) {
            (Some(a), Some(b)) => {
                let slope = (b.1 - a.1) / (b.0 - a.0);
                // From the nearer end, so that the last digits are those of the smaller pressure.
                let near = if flow - a.0 < b.0 - flow { a } else { b };
                (near.1 + slope * (flow - near.0), slope)
            }
            (Some(end), None) | (None, Some(end)) => {
                (end.1 - self.outside * (flow - end.0), -self.outside)
            }
            (None, None) => (0.0, -self.outside),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn curve(points: &[(f64, f64)]) -> Result<FanCurve, Unsolvable> {
        let points: Vec<_> = points
            .iter()
            .map(|(q, p)| (AirFlow::new(*q), Pressure::new(*p)))
            .collect();
        FanCurve::new(&points)
    }

    #[test]
    fn a_curve_is_read_between_its_points() {
        let fan = curve(&[(0.0, 2.0), (100.0, 2.0), (200.0, 1.0)]).unwrap();
        let rise = |q| fan.rise(AirFlow::new(q)).map(Pressure::value);
        assert_eq!(rise(50.0), Some(2.0));
        assert_eq!(rise(150.0), Some(1.5));
        assert_eq!(rise(200.0), Some(1.0));
        assert_eq!(rise(200.1), None);
        assert_eq!(rise(-0.1), None);
    }

    #[test]
    fn a_curve_that_rises_or_turns_back_is_refused() {
        assert!(matches!(
            curve(&[(0.0, 1.0)]),
            Err(Unsolvable::CurveTooShort)
        ));
        assert!(matches!(
            curve(&[(0.0, 1.0), (10.0, 1.1)]),
            Err(Unsolvable::CurveRises(..))
        ));
        assert!(matches!(
            curve(&[(0.0, 1.0), (0.0, 0.9)]),
            Err(Unsolvable::CurveTurnsBack(_))
        ));
    }
}
