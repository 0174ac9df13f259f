//! Friction of air in straight duct, round, rectangular or flat oval.

use super::air::DuctAir;
use super::friction::{Regime, darcy, regime};
use crate::quantity::{AirFlow, Area, HydraulicDiameter, Length, Pressure, Velocity};

/// Standard gravity, ft/s²: pounds of force to pounds of mass.
pub(super) const GC: f64 = 32.174_048_56;
/// Pounds per square foot in one conventional inch of water.
const PSF_PER_INWC: f64 = 249.088_91 / 47.880_258_980_335_84;

/// The inside of a duct.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    area: Area,
    hydraulic_diameter: HydraulicDiameter,
}

impl Section {
    fn of(area: f64, perimeter: f64) -> Option<Self> {
        (area > 0.0 && perimeter > 0.0).then(|| Self {
            area: Area::new(area),
            hydraulic_diameter: HydraulicDiameter::new(4.0 * area / perimeter),
        })
    }

    /// Round, by its diameter.
    pub fn round(diameter: Length) -> Option<Self> {
        let d = diameter.to_inches();
        let pi = std::f64::consts::PI;
        (d > 0.0).then(|| Self::of(pi * d * d / 4.0, pi * d))?
    }

    /// Rectangular, by its sides.
    pub fn rectangular(width: Length, height: Length) -> Option<Self> {
        let (w, h) = (width.to_inches(), height.to_inches());
        (w > 0.0 && h > 0.0).then(|| Self::of(w * h, 2.0 * (w + h)))?
    }

    /// Flat oval, by its long and short outside: two half circles and the flat between.
    pub fn oval(width: Length, height: Length) -> Option<Self> {
        let (w, h) = (width.max(height).to_inches(), width.min(height).to_inches());
        let pi = std::f64::consts::PI;
        (h > 0.0).then(|| Self::of(pi * h * h / 4.0 + h * (w - h), pi * h + 2.0 * (w - h)))?
    }

    /// True area.
    pub const fn area(&self) -> Area {
        self.area
    }

    /// Four times area over perimeter.
    pub const fn hydraulic_diameter(&self) -> HydraulicDiameter {
        self.hydraulic_diameter
    }

    /// Mean velocity over the true area.
    pub fn velocity(&self, flow: AirFlow) -> Velocity {
        Velocity::new(flow.value() / (self.area.value() / 144.0))
    }
}

/// ρ V² / (2 gc), with no sign.
pub fn velocity_pressure(air: &DuctAir, velocity: Velocity) -> Pressure {
    let feet_per_second = velocity.value() / 60.0;
    let psf = air.density.value() * feet_per_second * feet_per_second / (2.0 * GC);
    Pressure::new(psf / PSF_PER_INWC)
}

/// Friction in a straight duct.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DuctFriction {
    /// Mean velocity.
    pub velocity: Velocity,
    /// Of the mean velocity.
    pub velocity_pressure: Pressure,
    /// On the hydraulic diameter.
    pub reynolds: f64,
    /// How the air flows.
    pub regime: Regime,
    /// Darcy factor; none when the air stands.
    pub darcy: Option<f64>,
    /// Loss over 100 ft.
    pub per_100_ft: Pressure,
}

/// Darcy–Weisbach on the hydraulic diameter: f (100 ft/D) ρ V²/(2 gc).
pub fn duct_friction(
    section: &Section,
    roughness: Length,
    air: &DuctAir,
    flow: AirFlow,
) -> DuctFriction {
    let velocity = section.velocity(flow);
    let feet = section.hydraulic_diameter.value() / 12.0;
    let reynolds =
        air.density.value() * (velocity.value().abs() / 60.0) * feet / air.viscosity.value();
    let pressure = velocity_pressure(air, velocity);
    let factor = (reynolds > 0.0).then(|| darcy(reynolds, roughness.to_feet() / feet));
    DuctFriction {
        velocity,
        velocity_pressure: pressure,
        reynolds,
        regime: regime(reynolds),
        darcy: factor,
        per_100_ft: pressure * (factor.unwrap_or(0.0) * 100.0 / feet),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sections_agree_where_shapes_meet() {
        let six = Length::inches(6);
        let round = Section::round(six).unwrap();
        assert_eq!(Section::oval(six, six), Some(round));
        assert!((round.hydraulic_diameter().value() - 6.0).abs() < 1e-12);
        let square = Section::rectangular(six, six).unwrap();
        assert!((square.hydraulic_diameter().value() - 6.0).abs() < 1e-12);
        assert_eq!(Section::round(Length::ZERO), None);
        assert_eq!(Section::rectangular(six, Length::ZERO), None);
    }

    /// By hand: two half circles of 6 in and a flat of 6 in between.
    #[test]
    fn an_oval_is_two_half_circles_and_the_flat_between() {
        let oval = Section::oval(Length::inches(6), Length::inches(12)).unwrap();
        let pi = std::f64::consts::PI;
        let (area, perimeter) = (9.0 * pi + 36.0, 6.0 * pi + 12.0);
        assert!((oval.area().value() - area).abs() < 1e-12);
        assert!((oval.hydraulic_diameter().value() - 4.0 * area / perimeter).abs() < 1e-12);
    }
}
