//! Loss coefficients of fittings, on the velocity that each function names.
//!
//! Source: Rennels and Hudson, Pipe Flow (2012) for bends, entrances and changes of section; Crane
//! TP-410 (2009) for diverging tees. Handbooks differ by 20 to 50 % on many of these.

use crate::quantity::{AirFlow, Angle, Length};

/// Round bend, on the duct's velocity, friction along the arc included; `radius` is that of the
/// centre line over the diameter, `friction` the Darcy factor.
pub fn bend_round(angle: Angle, radius: f64, friction: f64) -> f64 {
    let a = angle.value().to_radians();
    let sine = libm::sin(a / 2.0);
    let turn = (0.10 + 2.4 * friction) * sine
        + 6.6 * friction * (sine.sqrt() + sine) / libm::pow(radius, 4.0 * a / std::f64::consts::PI);
    friction * a * radius + turn
}

/// Mitred bend without vanes, on the duct's velocity.
pub fn bend_miter(angle: Angle) -> f64 {
    let sine = libm::sin(angle.value().to_radians() / 2.0);
    0.42 * sine + 2.56 * sine * sine * sine
}

/// Sharp entrance flush with a wall, on the duct's velocity; other handbooks take 0.5.
pub const ENTRANCE_SHARP: f64 = 0.57;

/// Discharge into a room, on the duct's velocity.
pub const EXIT: f64 = 1.0;

/// Rounded entrance, on the duct's velocity; `radius` is that of the rounding over the diameter.
pub fn entrance_rounded(radius: f64) -> f64 {
    let r = radius.min(1.0);
    let jet = 1.0 + 0.622 * libm::pow(1.0 - 0.30 * r.sqrt() - 0.70 * r, 4.0);
    0.0696 * (1.0 - 0.569 * r) * jet * jet + (jet - 1.0) * (jet - 1.0)
}

/// Squares, fourths and fifths of small over large diameter.
fn powers(small: Length, large: Length) -> (f64, f64, f64) {
    let b = small.to_inches() / large.to_inches();
    (b * b, b * b * b * b, b * b * b * b * b)
}

/// Sudden contraction, on the velocity in the smaller duct downstream.
pub fn contraction_sharp(upstream: Length, downstream: Length) -> f64 {
    let (b2, _, b5) = powers(downstream, upstream);
    let jet = 1.0 + 0.622 * (1.0 - 0.215 * b2 - 0.785 * b5);
    0.0696 * (1.0 - b5) * jet * jet + (jet - 1.0) * (jet - 1.0)
}

/// Sudden expansion, on the velocity in the smaller duct upstream (Borda and Carnot).
pub fn expansion_sharp(upstream: Length, downstream: Length) -> f64 {
    let (b2, _, _) = powers(upstream, downstream);
    (1.0 - b2) * (1.0 - b2)
}

/// Friction along a cone, on the velocity in its smaller end.
fn cone_friction(friction: f64, b4: f64, sine: f64) -> f64 {
    friction * (1.0 - b4) / (8.0 * sine)
}

/// Conical contraction, on the velocity in the smaller duct downstream; `angle` is the whole cone's.
pub fn contraction_conical(
    upstream: Length,
    downstream: Length,
    angle: Angle,
    friction: f64,
) -> f64 {
    let (b2, b4, b5) = powers(downstream, upstream);
    let a = angle.value().to_radians();
    let sine = libm::sin(a / 2.0);
    let jet =
        1.0 + 0.622 * libm::pow(a / std::f64::consts::PI, 0.8) * (1.0 - 0.215 * b2 - 0.785 * b5);
    cone_friction(friction, b4, sine)
        + 0.0696 * sine * (1.0 - b5) * jet * jet
        + (jet - 1.0) * (jet - 1.0)
}

/// Conical expansion, on the velocity in the smaller duct upstream; `angle` is the whole cone's.
pub fn expansion_conical(upstream: Length, downstream: Length, angle: Angle, friction: f64) -> f64 {
    let (b2, b4, _) = powers(upstream, downstream);
    let degrees = angle.value();
    let half = degrees.to_radians() / 2.0;
    let sudden = (1.0 - b2) * (1.0 - b2);
    let along = cone_friction(friction, b4, libm::sin(half));
    let wide = b2 < 0.25;
    if degrees <= 20.0 {
        8.30 * libm::pow(libm::tan(half), 1.75) * sudden + along
    } else if degrees <= 60.0 {
        let swirl = libm::sin((2.0 * (degrees - 15.0)).to_radians()).sqrt();
        let correction = if wide {
            3.28 * (0.0625 - b4) * ((degrees - 20.0) / 40.0).sqrt()
        } else {
            0.0
        };
        (1.366 * swirl - 0.170 - correction) * sudden + along
    } else {
        let far = ((degrees - 60.0) / 120.0).sqrt();
        let factor = if wide {
            1.205 - 3.28 * (0.0625 - b4) - 12.8 * b2 * b2 * b2 * far
        } else {
            1.205 - 0.20 * far
        };
        factor * sudden
    }
}

/// A diverging tee: a straight run with one branch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tee {
    /// Diameter of the run.
    pub run: Length,
    /// Diameter of the branch.
    pub branch: Length,
    /// Between the run's direction and the branch's.
    pub angle: Angle,
    /// What goes straight on.
    pub run_flow: AirFlow,
    /// What turns off.
    pub branch_flow: AirFlow,
}

impl Tee {
    /// Area of the branch over that of the run, and the branch's share of the flow.
    fn ratios(&self) -> (f64, f64) {
        let (area, _, _) = powers(self.branch, self.run);
        let both = self.run_flow.value() + self.branch_flow.value();
        (area, self.branch_flow.value() / both)
    }

    /// Into the branch, on the velocity of the combined flow upstream.
    pub fn branch_loss(&self) -> f64 {
        let (area, share) = self.ratios();
        let wye = self.angle.value() < 60.0;
        // The source is silent between 60 and 90 degrees; half way, as general-purpose libraries take it.
        let flat = self.angle.value() < 75.0;
        // Two thirds in diameter, compared exactly: a 4 in branch on a 6 in run stands on the line.
        let narrow = self.branch.nm() * 3 <= self.run.nm() * 2;
        let (h, j) = if wye || narrow {
            (1.0, 2.0)
        } else {
            (0.3, 0.0)
        };
        let g = match (flat, area) {
            (true, a) if a <= 0.35 && share <= 0.4 => 1.1 - 0.7 * share,
            (true, a) if a <= 0.35 => 0.85,
            (true, _) if share <= 0.6 => 1.0 - 0.6 * share,
            (true, _) => 0.6,
            (false, a) if a <= 2.0 / 3.0 => 1.0,
            (false, _) => 1.0 + 0.3 * share * share,
        };
        let speed = share / area;
        let cosine = libm::cos(self.angle.value().to_radians());
        g * (1.0 + h * speed * speed - j * speed * cosine)
    }

    /// Straight on, on the velocity of the combined flow upstream; below zero where the slowed air regains pressure.
    pub fn run_loss(&self) -> f64 {
        let (area, share) = self.ratios();
        let m = if area <= 0.4 {
            0.4
        } else if share <= 0.5 {
            2.0 * (2.0 * share - 1.0)
        } else {
            0.3 * (2.0 * share - 1.0)
        };
        m * share * share
    }

    /// Velocity pressure of the combined flow over that in the branch: turns [`Self::branch_loss`] to the branch's velocity.
    pub fn onto_branch(&self) -> f64 {
        let (area, share) = self.ratios();
        let speed = share / area;
        1.0 / (speed * speed)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_meet_what_is_known() {
        assert!((bend_miter(Angle::new(0.0))).abs() < 1e-12);
        let (a, b) = (Length::inches(7), Length::inches(10));
        assert!(expansion_sharp(a, a).abs() < 1e-12);
        assert!(contraction_sharp(a, a).abs() < 1e-2);
        // A sudden contraction from a great room is a sharp entrance.
        let room = contraction_sharp(Length::feet(1000), a);
        assert!((room - ENTRANCE_SHARP).abs() < 0.005, "{room}");
        // A cone of 180 degrees is nearly a sudden expansion.
        let cone = expansion_conical(a, b, Angle::new(180.0), 0.0);
        assert!((cone / expansion_sharp(a, b) - 1.0).abs() < 0.01, "{cone}");
        assert!((entrance_rounded(0.0) - (0.0696 * 1.622 * 1.622 + 0.622 * 0.622)).abs() < 1e-12);
    }

    #[test]
    fn cones_are_nearly_continuous_where_formulas_meet() {
        let (a, b) = (Length::inches(7), Length::inches(10));
        for at in [20.0, 60.0] {
            let k = |d: f64| expansion_conical(a, b, Angle::new(d), 0.018);
            assert!((k(at + 1e-9) / k(at) - 1.0).abs() < 0.06, "{at}");
        }
    }

    /// Values of the `fluids` library 1.x for the same equations (Rennels and Hudson).
    #[test]
    fn wide_and_narrow_cones_agree_with_a_general_library() {
        for (a, b, angle, friction, k) in [
            (2, 5, 15.0, 0.03, 0.196509004667),
            (2, 5, 30.0, 0.03, 0.533010470481),
            (2, 5, 120.0, 0.03, 0.738689281337),
            (7, 10, 45.0, 0.018, 0.290891599769),
            (7, 10, 120.0, 0.018, 0.276636805243),
            (2, 4, 60.0, 0.03, 0.67978125),
            (4, 9, 25.0, 0.03, 0.404080119383),
        ] {
            let ours = expansion_conical(
                Length::inches(a),
                Length::inches(b),
                Angle::new(angle),
                friction,
            );
            assert!((ours / k - 1.0).abs() < 1e-9, "{a} {b} {angle}: {ours} {k}");
        }
    }

    /// Values of the `fluids` library 1.x for the same equations (Crane TP 410, diverging tees).
    #[test]
    fn tees_of_every_branch_agree_with_a_general_library() {
        for (run, branch, angle, straight, turned, into, on) in [
            (7, 4, 45.0, 300.0, 100.0, 0.465667553288, 0.025),
            (7, 4, 45.0, 200.0, 200.0, 1.00233023835, 0.1),
            (9, 8, 45.0, 500.0, 100.0, 0.671565560034, -0.037037037037),
            (9, 8, 60.0, 500.0, 300.0, 0.82737156868, -0.0703125),
            (9, 8, 90.0, 500.0, 300.0, 1.11261458933, -0.0703125),
            (9, 8, 45.0, 200.0, 400.0, 0.311202821549, 0.0444444444444),
            (6, 4, 90.0, 1.0, 35.0, 5.78515625, 0.267811213992),
            (9, 6, 90.0, 300.0, 200.0, 1.81, -0.064),
            (7, 2, 45.0, 300.0, 35.0, 0.850281383406, 0.0043662285587),
        ] {
            let tee = Tee {
                run: Length::inches(run),
                branch: Length::inches(branch),
                angle: Angle::new(angle),
                run_flow: AirFlow::new(straight),
                branch_flow: AirFlow::new(turned),
            };
            assert!(
                (tee.branch_loss() / into - 1.0).abs() < 1e-9,
                "{tee:?}: {into}"
            );
            assert!((tee.run_loss() - on).abs() < 1e-9, "{tee:?}: {on}");
        }
    }
}
