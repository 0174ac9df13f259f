//! A loss that the catalog gives as points of flow and pressure.

use crate::catalog::{AirPoint, Stated, curve};

/// Loss against flow in standard air.
#[derive(Clone, Debug)]
pub(super) struct LossCurve {
    points: Vec<(f64, f64)>,
}

impl LossCurve {
    /// From the catalog's points; none when it gives none above zero.
    pub(super) fn of(points: &[Stated<AirPoint>]) -> Option<Self> {
        let mut points: Vec<(f64, f64)> = curve(Some(&points.to_vec()))
            .into_iter()
            .map(|point| (point.flow.value(), point.pressure.value().abs()))
            .filter(|(flow, _)| *flow > 0.0)
            .collect();
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        (!points.is_empty()).then_some(Self { points })
    }

    /// From one point.
    pub(super) fn through(flow: f64, loss: f64) -> Self {
        Self {
            points: vec![(flow, loss)],
        }
    }

    /// The flow at which the curve ends.
    pub(super) fn end(&self) -> Option<f64> {
        self.points.last().map(|(flow, _)| *flow)
    }

    /// Loss at a flow: on the straight line between the nearest points, by the square of flow beyond them.
    pub(super) fn at(&self, flow: f64) -> f64 {
        let after = self.points.partition_point(|(q, _)| *q <= flow);
        let before = after.checked_sub(1).and_then(|at| self.points.get(at));
        match (before, self.points.get(after)) {
            (Some(a), Some(b)) => a.1 + (b.1 - a.1) * (flow - a.0) / (b.0 - a.0),
            (Some(end), None) | (None, Some(end)) => end.1 * (flow / end.0) * (flow / end.0),
            (None, None) => 0.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn straight_between_points_and_square_beyond() {
        let curve = LossCurve {
            points: vec![(700.0, 0.06), (1000.0, 0.11)],
        };
        assert!((curve.at(850.0) - 0.085).abs() < 1e-12);
        assert!((curve.at(350.0) - 0.015).abs() < 1e-12);
        assert!((curve.at(2000.0) - 0.44).abs() < 1e-12);
        assert!(curve.at(0.0).abs() < 1e-12);
    }
}
