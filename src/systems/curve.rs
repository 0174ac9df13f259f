//! Values read off a catalog's curve, on the straight line between its nearest points.

use crate::catalog::{AirPoint, Stated};
use crate::quantity::number_text;
use crate::source::Span;

/// `580 cfm at 1.04 inwc`, as the catalog writes a point.
pub(super) fn point_text(point: &AirPoint) -> String {
    format!(
        "{} cfm at {} inwc",
        number_text(point.flow.value(), 1),
        number_text(point.pressure.value(), 3)
    )
}

/// A value read off a curve, and the two points it lies between.
pub(super) struct ReadOff {
    pub(super) value: f64,
    pub(super) points: [(Span, String); 2],
}

/// `y` of a curve at `x`, on the straight line between the nearest points; none beyond the curve's ends.
pub(super) fn read_off(
    points: &[Stated<AirPoint>],
    x: f64,
    xy: impl Fn(&AirPoint) -> (f64, f64),
) -> Option<ReadOff> {
    between(points, x, xy, point_text)
}

/// The same of points of any sort, with the words in which one is told.
pub(super) fn between<P: Clone>(
    points: &[Stated<P>],
    x: f64,
    xy: impl Fn(&P) -> (f64, f64),
    text: impl Fn(&P) -> String,
) -> Option<ReadOff> {
    let known: Vec<(&Stated<P>, P)> = points
        .iter()
        .filter_map(|point| Some((point, point.get()?)))
        .collect();
    known.windows(2).find_map(|pair| {
        let [(low, a), (high, b)] = pair else {
            return None;
        };
        let ((xa, ya), (xb, yb)) = (xy(a), xy(b));
        let inside = xa.min(xb) <= x && x <= xa.max(xb) && xa.to_bits() != xb.to_bits();
        inside.then(|| ReadOff {
            value: ya + (yb - ya) * ((x - xa) / (xb - xa)),
            points: [(low.span, text(a)), (high.span, text(b))],
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::CurvePoint;
    use crate::quantity::{AirFlow, Pressure};
    use crate::source::FileId;

    #[test]
    fn a_curve_is_never_read_beyond_its_ends() {
        let at = Span::new(FileId::own(0), 0, 0);
        let points: Vec<Stated<AirPoint>> = [(440.0, 0.6), (580.0, 1.04)]
            .into_iter()
            .map(|(flow, pressure)| {
                let point = CurvePoint {
                    flow: AirFlow::new(flow),
                    pressure: Pressure::new(pressure),
                };
                Stated::known(point, at)
            })
            .collect();
        let read =
            |x| read_off(&points, x, |p| (p.flow.value(), p.pressure.value())).map(|r| r.value);
        assert_eq!(read(440.0), Some(0.6));
        assert!((read(510.0).unwrap() - 0.82).abs() < 1e-12);
        assert_eq!(read(439.9), None);
        assert_eq!(read(580.1), None);
    }
}
