//! Density and viscosity of dry air as ducts carry it.

use super::psychrometrics::RANKINE;
use crate::quantity::{Density, Pressure, Temperature, Viscosity};

/// Air in a duct.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DuctAir {
    /// Mass per volume.
    pub density: Density,
    /// Dynamic viscosity.
    pub viscosity: Viscosity,
}

/// Dry air at a temperature and absolute pressure; none outside −148 to 392 °F.
pub fn dry_air(temperature: Temperature, pressure: Pressure) -> Option<DuctAir> {
    if !(-148.0..=392.0).contains(&temperature.value()) {
        return None;
    }
    let rankine = temperature.value() + RANKINE;
    let density = Density::new(144.0 * pressure.psi() / (53.350 * rankine));
    Some(DuctAir {
        density,
        viscosity: viscosity(temperature, density),
    })
}

/// Viscosity of dry air.
///
/// Source: Lemmon and Jacobsen, Viscosity and Thermal Conductivity Equations for Nitrogen, Oxygen,
/// Argon, and Air (2004), equations 1 to 3 and Tables 1 to 4.
pub fn viscosity(temperature: Temperature, density: Density) -> Viscosity {
    let kelvin = (temperature.value() + RANKINE) / 1.8;
    // lb/ft³ to mol/L by the molar mass of air.
    let molar = density.value() * 16.018_463_373_96 / MOLAR_MASS;
    Viscosity::new(micropascal_seconds(kelvin, molar) * 1e-6 / 1.488_163_943_569_6)
}

const MOLAR_MASS: f64 = 28.958_6;

fn micropascal_seconds(kelvin: f64, molar: f64) -> f64 {
    const COLLISION: [f64; 5] = [0.431, -0.4623, 0.084_06, 0.005_341, -0.003_31];
    // N, t, d, l of the residual part.
    const RESIDUAL: [(f64, f64, f64, f64); 5] = [
        (10.72, 0.2, 1.0, 0.0),
        (1.122, 0.05, 4.0, 0.0),
        (0.002_019, 2.4, 9.0, 0.0),
        (-8.876, 0.6, 1.0, 1.0),
        (-0.029_16, 3.6, 8.0, 1.0),
    ];
    let reduced = libm::log(kelvin / 103.3);
    let collision = COLLISION.iter().rev().fold(0.0, |sum, b| sum * reduced + b);
    let dilute =
        0.026_695_8 * (MOLAR_MASS * kelvin).sqrt() / (0.360 * 0.360 * libm::exp(collision));
    let tau = 132.631_2 / kelvin;
    let delta = molar / 10.447_7;
    let residual: f64 = RESIDUAL
        .iter()
        .map(|(n, t, d, l)| {
            let fade = if *l > 0.0 { libm::exp(-delta) } else { 1.0 };
            n * libm::pow(tau, *t) * libm::pow(delta, *d) * fade
        })
        .sum();
    dilute + residual
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Lemmon and Jacobsen (2004), Table 5.
    #[test]
    fn viscosity_gives_the_paper_s_test_values() {
        for (kelvin, molar, want) in [
            (100.0, 0.0, 7.095_59),
            (300.0, 0.0, 18.523_0),
            (100.0, 28.0, 107.923),
            (200.0, 10.0, 21.139_2),
            (300.0, 5.0, 21.324_1),
        ] {
            let found = micropascal_seconds(kelvin, molar);
            assert!(
                (found / want - 1.0).abs() < 1e-5,
                "{kelvin} {molar} {found}"
            );
        }
    }
}
