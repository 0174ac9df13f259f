//! Friction of a liquid in a straight pipe or tube.

use super::duct::GC;
use super::friction::{Regime, darcy, regime};
use super::water::Water;
use crate::quantity::{Density, Head, Length, Pressure, Velocity, WaterFlow};

/// Cubic feet per second in one US gallon per minute.
const CFS_PER_GPM: f64 = 231.0 / 1728.0 / 60.0;

/// Flow in a pipe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PipeFlow {
    /// Mean velocity.
    pub velocity: Velocity,
    /// On the inside diameter.
    pub reynolds: f64,
    /// How the liquid flows.
    pub regime: Regime,
    /// Darcy factor; none when it stands.
    pub darcy: Option<f64>,
    /// V²/(2 g) as a height of the liquid.
    pub velocity_head: Head,
    /// Friction per length of pipe, height over length.
    pub slope: f64,
}

/// Darcy–Weisbach; none for a pipe without bore.
pub fn pipe_flow(
    inside: Length,
    roughness: Length,
    liquid: &Water,
    flow: WaterFlow,
) -> Option<PipeFlow> {
    let feet = inside.to_feet();
    if feet <= 0.0 {
        return None;
    }
    let area = std::f64::consts::FRAC_PI_4 * feet * feet;
    let velocity = flow.value() * CFS_PER_GPM / area;
    let reynolds = liquid.density.value() * velocity.abs() * feet / liquid.viscosity.value();
    let factor = (reynolds > 0.0).then(|| darcy(reynolds, roughness.to_feet() / feet));
    let head = velocity * velocity / (2.0 * GC);
    Some(PipeFlow {
        velocity: Velocity::new(velocity * 60.0),
        reynolds,
        regime: regime(reynolds),
        darcy: factor,
        velocity_head: Head::new(head * 12.0),
        slope: factor.unwrap_or(0.0) / feet * head,
    })
}

impl PipeFlow {
    /// Friction over a length, as a height of the liquid.
    pub fn friction(&self, length: Length) -> Head {
        Head::new(self.slope * length.to_inches())
    }
}

/// The pressure of a height of liquid under standard gravity.
pub fn head_pressure(head: Head, density: Density) -> Pressure {
    Pressure::from_psi(head.value() / 12.0 * density.value() / 144.0)
}
