//! Loss of one segment as a function of its flow, with its slope: rising everywhere.

use super::super::air::DuctAir;
use super::super::duct::velocity_pressure;
use super::super::friction::{LAMINAR_BELOW, TURBULENT_FROM, colebrook};
use super::{Segment, Unsolvable};
use crate::quantity::AirFlow;

/// 2 over the natural logarithm of 10.
const C: f64 = 2.0 / std::f64::consts::LN_10;

/// A segment prepared for many evaluations; flows in cfm, pressures in inwc.
#[derive(Clone, Debug)]
pub(super) struct Resistance {
    /// Velocity pressure of one cfm.
    unit: f64,
    /// Reynolds number of one cfm.
    reynolds: f64,
    /// Length over hydraulic diameter.
    slenderness: f64,
    /// Loss coefficient.
    minor: f64,
    /// Roughness over 3.7 hydraulic diameters.
    rough: f64,
    /// Darcy factor where turbulence begins, once it was needed.
    edge: Option<f64>,
    /// The last turbulent evaluation: where the next one starts.
    last: Turbulent,
    /// Least slope that is used, for a segment of pure loss at no flow.
    least_slope: f64,
}

impl Resistance {
    /// Prepares a segment, or says what is wrong with it.
    pub(super) fn of(segment: &Segment, air: &DuctAir) -> Result<Self, Unsolvable> {
        let bad = |what| Err(Unsolvable::BadSegment(segment.id.clone(), what));
        let feet = segment.section.hydraulic_diameter().value() / 12.0;
        let speed = segment.section.velocity(AirFlow::new(1.0));
        let relative = segment.roughness.to_feet() / feet;
        let slenderness = segment.length.to_feet() / feet;
        if slenderness < 0.0 {
            return bad("its length is below zero");
        }
        if !segment.minor.is_finite() {
            return bad("its loss coefficient is not a number");
        }
        if !(0.0..=0.5).contains(&relative) {
            return bad("its roughness is below zero or more than half its diameter");
        }
        if slenderness == 0.0 && segment.minor == 0.0 {
            return Err(Unsolvable::NoResistance(segment.id.clone()));
        }
        // The least factor at any Reynolds number bounds how much regain keeps the loss rising.
        if segment.minor < 0.0 {
            let least = colebrook(1e12, relative).min(64.0 / LAMINAR_BELOW);
            if segment.minor < -0.45 * least * slenderness {
                return bad(
                    "its loss coefficient is further below zero than its friction makes up",
                );
            }
        }
        let unit = velocity_pressure(air, speed).value();
        let reynolds = air.density.value() * (speed.value() / 60.0) * feet / air.viscosity.value();
        if !(unit > 0.0 && unit.is_finite() && reynolds > 0.0 && reynolds.is_finite()) {
            return bad("its air has no density or no viscosity");
        }
        Ok(Self {
            unit,
            reynolds,
            slenderness,
            minor: segment.minor,
            rough: relative / 3.7,
            edge: None,
            // A factor of 0.03: any start does.
            last: Turbulent {
                x: 5.8,
                re: TURBULENT_FROM,
                lean: 0.0,
            },
            least_slope: 0.0,
        })
    }

    /// Keeps the slope of a pure loss from vanishing below a flow that does not count.
    pub(super) fn count_from(&mut self, flow: f64) {
        if self.slenderness == 0.0 {
            self.least_slope = 2.0 * self.minor * self.unit * flow;
        }
    }

    /// A flow at which the segment is likely to run: 1000 fpm.
    pub(super) fn likely_flow(&self) -> f64 {
        // Velocity pressure of 1000 fpm is about 1/16 inwc in common air.
        (0.0624 / self.unit).sqrt()
    }

    /// Takes another loss coefficient, at or above zero.
    pub(super) fn set_minor(&mut self, minor: f64) {
        if self.least_slope > 0.0 && self.minor > 0.0 {
            self.least_slope *= minor / self.minor;
        }
        self.minor = minor;
    }

    /// Its loss coefficient.
    pub(super) const fn minor(&self) -> f64 {
        self.minor
    }

    /// Velocity pressure at a flow.
    pub(super) fn velocity_pressure(&self, flow: f64) -> f64 {
        self.unit * flow * flow
    }

    /// Loss and its slope at a flow.
    pub(super) fn at(&mut self, flow: f64) -> (f64, f64) {
        let q = flow.abs();
        let re = self.reynolds * q;
        let dynamic = self.unit * q;
        // f q and its slope by q, over the slenderness.
        let (along, along_slope) = if re <= LAMINAR_BELOW {
            let constant = 64.0 / self.reynolds;
            (constant, 0.0)
        } else if re < TURBULENT_FROM {
            let laminar = 64.0 / LAMINAR_BELOW;
            let edge = match self.edge {
                Some(edge) => edge,
                None => *self
                    .edge
                    .insert(colebrook(TURBULENT_FROM, self.rough * 3.7)),
            };
            let climb = (edge - laminar) / (TURBULENT_FROM - LAMINAR_BELOW);
            let factor = laminar + climb * (re - LAMINAR_BELOW);
            (factor * q, factor + climb * re)
        } else {
            let (factor, power) = self.turbulent(re);
            (factor * q, factor * (1.0 + power))
        };
        // Loss is (f q L/D + K q) × unit × q.
        let per_flow = along * self.slenderness + self.minor * q;
        let slope = self.unit * per_flow + dynamic * (along_slope * self.slenderness + self.minor);
        let loss = per_flow * dynamic;
        (
            if flow < 0.0 { -loss } else { loss },
            slope.max(self.least_slope),
        )
    }

    /// Darcy factor by Colebrook and the power of Reynolds number that it follows there.
    fn turbulent(&mut self, re: f64) -> (f64, f64) {
        let smooth = 2.51 / re;
        let mut x = self.last.toward(re);
        let mut bend = 0.0;
        for _ in 0..20 {
            let inside = self.rough + smooth * x;
            bend = C * smooth / inside;
            let step = (x + C * libm::log(inside)) / (1.0 + bend);
            x -= step;
            // Errors square from step to step: what is left after this one is below the last digit.
            if step.abs() <= 1e-8 * x {
                break;
            }
        }
        let lean = bend / (1.0 + bend);
        self.last = Turbulent { x, re, lean };
        (1.0 / (x * x), -2.0 * lean)
    }
}

/// An evaluation of Colebrook's formula.
#[derive(Clone, Copy, Debug)]
struct Turbulent {
    /// 1/√f.
    x: f64,
    /// Its Reynolds number.
    re: f64,
    /// The power of Reynolds number that `x` follows there.
    lean: f64,
}

impl Turbulent {
    /// A guess of `x` at another Reynolds number: along the tangent, as long as that is near.
    fn toward(self, re: f64) -> f64 {
        let share = re / self.re - 1.0;
        if share.abs() < 0.5 {
            self.x * (1.0 + self.lean * share)
        } else {
            self.x
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::duct::Section;
    use super::*;
    use crate::quantity::{Density, Length, Viscosity};

    fn air() -> DuctAir {
        DuctAir {
            density: Density::new(0.075),
            viscosity: Viscosity::new(1.222e-5),
        }
    }

    fn tube(length: f64, minor: f64) -> Segment {
        Segment {
            id: "t".to_owned(),
            from: 0,
            to: 1,
            section: Section::round(Length::inches(2)).unwrap(),
            length: Length::nearest(length * 12.0),
            roughness: Length::nearest(0.003 * 12.0),
            minor,
            outlet: false,
        }
    }

    #[test]
    fn loss_agrees_with_the_duct_and_its_slope_with_itself() {
        let segment = tube(10.0, 2.1);
        let mut part = Resistance::of(&segment, &air()).unwrap();
        for flow in [0.01, 1.0, 2.5, 3.0, 4.0, 6.0, 40.0, 400.0, -30.0] {
            let state = segment.state(&air(), AirFlow::new(flow));
            let (loss, slope) = part.at(flow);
            let want = (state.friction + state.minor).value();
            assert!((loss / want - 1.0).abs() < 1e-12, "{flow} {loss} {want}");
            let step = flow.abs() * 1e-6;
            let near = (part.at(flow + step).0 - part.at(flow - step).0) / (2.0 * step);
            assert!((slope / near - 1.0).abs() < 1e-6, "{flow} {slope} {near}");
        }
    }

    #[test]
    fn a_segment_of_nothing_is_refused() {
        assert!(matches!(
            Resistance::of(&tube(0.0, 0.0), &air()),
            Err(Unsolvable::NoResistance(_))
        ));
        assert!(Resistance::of(&tube(0.0, 1.0), &air()).is_ok());
        assert!(Resistance::of(&tube(1.0, -5.0), &air()).is_err());
        assert!(Resistance::of(&tube(-1.0, 5.0), &air()).is_err());
    }
}
