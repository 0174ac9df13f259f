//! How far a level pipe sags between two supports, by its material and temperature.
//!
//! Source: a beam on two supports under its own weight and that of its water: sag 5wL⁴/(384EI) in the middle,
//! slope wL³/(24EI) at the supports. Creep over years is left out: it adds to both.

use crate::quantity::{Length, Temperature};

/// What a pipe's wall is made of, for its stiffness and weight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wall {
    /// PVC.
    Pvc,
    /// CPVC.
    Cpvc,
    /// ABS.
    Abs,
    /// Cross-linked polyethylene.
    Pex,
    /// Polyethylene.
    Pe,
    /// Copper.
    Copper,
    /// Steel.
    Steel,
}

impl Wall {
    /// Modulus of elasticity at 73 °F, psi, what it loses for each degree above, and weight, lb/in³.
    /// Handbook figures for the plastics, short-term, from memory.
    const fn facts(self) -> (f64, f64, f64) {
        match self {
            Self::Pvc => (400_000.0, 1_900.0, 0.0506),
            Self::Cpvc => (420_000.0, 1_500.0, 0.0560),
            Self::Abs => (250_000.0, 1_100.0, 0.0379),
            Self::Pex => (110_000.0, 650.0, 0.0339),
            Self::Pe => (110_000.0, 800.0, 0.0343),
            Self::Copper => (17_000_000.0, 0.0, 0.3230),
            Self::Steel => (29_000_000.0, 0.0, 0.2836),
        }
    }

    /// Modulus of elasticity, psi; none where the plastic is too hot for it to mean anything.
    pub fn modulus(self, at: Temperature) -> Option<f64> {
        let (cool, loss, _) = self.facts();
        let now = cool - loss * (at.value() - 73.0).max(0.0);
        (now > cool / 4.0).then_some(now)
    }
}

/// Weight of water, lb/in³.
const WATER: f64 = 62.4 / 1728.0;

/// A pipe as a beam.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beam {
    /// Load, lb/in.
    pub load: f64,
    /// Stiffness, lb·in².
    pub stiffness: f64,
}

impl Beam {
    /// A pipe whose bore is half full of water; none when its sizes are not those of a pipe.
    pub fn of(wall: Wall, outside: Length, inside: Length, at: Temperature) -> Option<Self> {
        let (o, i) = (outside.to_inches(), inside.to_inches());
        let (_, _, weight) = wall.facts();
        if i <= 0.0 || o <= i {
            return None;
        }
        let quarter = std::f64::consts::FRAC_PI_4;
        let load = quarter * ((o * o - i * i) * weight + i * i / 2.0 * WATER);
        let inertia = std::f64::consts::PI / 64.0 * (o * o * o * o - i * i * i * i);
        Some(Self {
            load,
            stiffness: wall.modulus(at)? * inertia,
        })
    }

    /// How far the middle hangs below the supports.
    pub fn sag(&self, span: Length) -> Length {
        let l = span.to_inches();
        Length::nearest(5.0 * self.load * l * l * l * l / (384.0 * self.stiffness))
    }

    /// The slope at the supports, in per in: a pipe laid flatter than this runs uphill before each support.
    pub fn end_slope(&self, span: Length) -> f64 {
        let l = span.to_inches();
        self.load * l * l * l / (24.0 * self.stiffness)
    }

    /// The widest span whose slope at the supports is no more than `slope`, in per in.
    pub fn span_for(&self, slope: f64) -> Length {
        Length::nearest(libm::cbrt(
            24.0 * self.stiffness * slope.max(0.0) / self.load,
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn three_quarters(at: f64) -> Beam {
        let size = |inches| Length::nearest(inches);
        Beam::of(Wall::Pvc, size(1.05), size(0.824), Temperature::new(at)).unwrap()
    }

    /// ASTM D1785: 3/4 in schedule 40 weighs 0.21 lb/ft; half of its bore holds 0.115 lb/ft of water.
    #[test]
    fn a_pipe_weighs_what_its_standard_says() {
        let found = three_quarters(73.0).load * 12.0;
        assert!((found - 0.325).abs() < 0.012, "{found}");
    }

    /// AISC Steel Construction Manual, dimensions and properties of pipe: 3/4 in standard weight has 0.0370 in⁴; with
    /// 400,000 psi of PVC at 73 °F (ASTM D1784, cell class 12454) that is 14,800 lb·in².
    #[test]
    fn a_pipe_is_as_stiff_as_its_table_says() {
        let found = three_quarters(73.0).stiffness;
        assert!((found - 14_800.0).abs() < 14_800.0 * 0.005, "{found}");
    }

    /// CPVC: 420,000 - 1,500 (283 - 73) is a quarter of 420,000.
    #[test]
    fn too_hot_or_without_a_wall_it_is_no_beam() {
        let size = |inches| Length::nearest(inches);
        let at = |wall, inside, at| Beam::of(wall, size(1.05), size(inside), Temperature::new(at));
        assert!(at(Wall::Cpvc, 0.824, 283.0).is_none());
        assert!(at(Wall::Cpvc, 0.824, 282.0).is_some());
        for inside in [1.05, 1.1, 0.0, -0.5] {
            assert!(at(Wall::Copper, inside, 73.0).is_none(), "{inside}");
        }
    }

    /// The beam's own curve, integrated twice in small steps from its bending moment.
    #[test]
    fn sag_and_slope_are_those_of_the_integrated_beam() {
        let beam = three_quarters(100.0);
        let span = 48.0;
        let steps = 20_000;
        let dx = span / f64::from(steps);
        // With the slope at the start unknown, shoot: sag is linear in it.
        let end = |slope: f64| {
            let (mut y, mut s, mut low) = (0.0, slope, 0.0f64);
            for n in 0..steps {
                let x = (f64::from(n) + 0.5) * dx;
                let moment = beam.load * x * (span - x) / 2.0;
                s -= moment / beam.stiffness * dx;
                y += s * dx;
                low = low.max(y);
            }
            (y, low)
        };
        let slope = beam.end_slope(Length::inches(48));
        let (y, low) = end(slope);
        assert!(y.abs() < 1e-4, "{y}");
        let sag = beam.sag(Length::inches(48)).to_inches();
        assert!((low - sag).abs() < 1e-4, "{low} {sag}");
    }

    #[test]
    fn heat_makes_it_sag_and_a_shorter_span_mends_it() {
        let (cool, hot) = (three_quarters(73.0), three_quarters(128.0));
        let span = Length::feet(4);
        assert!(hot.sag(span) > cool.sag(span));
        let wanted = 1.0 / 96.0;
        let good = hot.span_for(wanted);
        assert!((hot.end_slope(good) - wanted).abs() < 1e-6);
        assert_eq!(Wall::Pvc.modulus(Temperature::new(240.0)), None);
    }
}
