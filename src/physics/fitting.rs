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
        let flat = self.angle.value() < 60.0;
        let (h, j) = if flat || area <= 4.0 / 9.0 {
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
}
