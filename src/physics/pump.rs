//! Where a pump runs: the flow at which its curve gives what lift and friction ask.

use crate::quantity::{Head, WaterFlow};

/// A point of a pump's curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurvePoint {
    /// Flow.
    pub flow: WaterFlow,
    /// Head at that flow.
    pub head: Head,
}

/// What a pump does against a tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Running {
    /// It moves this flow against this head.
    At(CurvePoint),
    /// It moves more than the last point of its curve: that point is all that is known.
    Beyond(CurvePoint),
    /// It stands against its highest head and moves nothing that its curve knows.
    Stalled,
}

/// Head of the curve at a flow, on straight lines between its points; points go from the highest flow down.
fn on_curve(points: &[CurvePoint], flow: f64) -> Option<f64> {
    points.windows(2).find_map(|pair| {
        let [a, b] = pair else { return None };
        let (high, low) = (a.flow.value(), b.flow.value());
        (low <= flow && flow <= high && high > low).then(|| {
            let share = (flow - low) / (high - low);
            b.head.value() + share * (a.head.value() - b.head.value())
        })
    })
}

/// Solves the curve against `asked`, the head that a flow asks of the tube, which grows with the flow. Points go from
/// the lowest head to the highest, as catalogs list them. None without at least two points.
pub fn running(points: &[CurvePoint], asked: impl Fn(WaterFlow) -> Head) -> Option<Running> {
    let (first, last) = (points.first()?, points.last()?);
    if points.len() < 2 {
        return None;
    }
    let left = |flow: f64| on_curve(points, flow).map(|h| h - asked(WaterFlow::new(flow)).value());
    let (mut low, mut high) = (last.flow.value(), first.flow.value());
    if left(low)? < 0.0 {
        return Some(Running::Stalled);
    }
    if left(high)? > 0.0 {
        return Some(Running::Beyond(*first));
    }
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if left(middle)? > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    let flow = f64::midpoint(low, high);
    Some(Running::At(CurvePoint {
        flow: WaterFlow::new(flow),
        head: asked(WaterFlow::new(flow)),
    }))
}

/// Cycles an hour of a pump that takes `drawn` from its tank each time it runs at `pumps` while `inflow` comes in.
/// All in one unit of volume and that volume per hour; none where it never catches up, or nothing comes.
pub fn cycles_an_hour(drawn: f64, inflow: f64, pumps: f64) -> Option<f64> {
    if drawn <= 0.0 || inflow <= 0.0 || pumps <= inflow {
        return None;
    }
    Some(1.0 / (drawn / inflow + drawn / (pumps - inflow)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(flow: f64, head: f64) -> CurvePoint {
        CurvePoint {
            flow: WaterFlow::new(flow),
            head: Head::new(head),
        }
    }

    #[test]
    fn two_straight_lines_meet_where_algebra_says() {
        // 100 − 50 q = 20 + 30 q at q = 1.
        let curve = [point(2.0, 0.0), point(0.0, 100.0)];
        let tube = |q: WaterFlow| Head::new(20.0 + 30.0 * q.value());
        let Some(Running::At(found)) = running(&curve, tube) else {
            panic!("it runs");
        };
        assert!((found.flow.value() - 1.0).abs() < 1e-12);
        assert!((found.head.value() - 50.0).abs() < 1e-9);
    }

    #[test]
    fn it_stalls_at_its_highest_lift_and_not_just_under_it() {
        let curve = [point(1.0, 10.0), point(0.2, 100.0)];
        let at = |head: f64| running(&curve, |_| Head::new(head)).unwrap();
        assert_eq!(at(100.01), Running::Stalled);
        assert!(matches!(at(99.99), Running::At(_)));
        assert_eq!(at(9.99), Running::Beyond(point(1.0, 10.0)));
        assert_eq!(running(&curve[..1], |_| Head::new(1.0)), None);
    }

    /// Counted minute by minute over a day.
    #[test]
    fn cycles_are_those_that_one_counts() {
        let (drawn, inflow, pumps) = (0.2, 1.5, 30.0);
        let (mut level, mut on, mut starts) = (0.0, false, 0);
        let dt = 1.0 / 36_000.0;
        for _ in 0..(100 * 36_000) {
            level += inflow * dt - if on { pumps * dt } else { 0.0 };
            if !on && level >= drawn {
                on = true;
                starts += 1;
            } else if on && level <= 0.0 {
                on = false;
            }
        }
        let found = cycles_an_hour(drawn, inflow, pumps).unwrap();
        assert!((f64::from(starts) / 100.0 / found - 1.0).abs() < 0.01);
        assert_eq!(cycles_an_hour(0.2, 2.0, 2.0), None);
    }
}
