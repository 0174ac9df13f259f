//! Density, viscosity and specific heat of liquid water.
//!
//! Source: IAPWS-IF97, region 1 (density, specific heat); IAPWS 2008 formulation for viscosity,
//! without its critical enhancement, which is nothing here. Checked against the releases' own test values.

use super::psychrometrics::saturation_pressure;
use crate::quantity::{Density, Pressure, SpecificHeat, Temperature, Viscosity};

/// Standard atmosphere, 14.696 psia.
pub const ATMOSPHERE: Pressure = Pressure::new(14.696 * 6_894.757_293_168 / 249.088_91);
/// A closed heating loop, 40 psia: about 25 psi on the gauge.
pub const CLOSED_LOOP: Pressure = Pressure::new(40.0 * 6_894.757_293_168 / 249.088_91);

/// Liquid water at one state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Water {
    /// Mass per volume.
    pub density: Density,
    /// Dynamic viscosity.
    pub viscosity: Viscosity,
    /// Isobaric specific heat.
    pub specific_heat: SpecificHeat,
}

/// kg/m³ in one lb/ft³.
const KG_M3: f64 = 0.453_592_37 / 0.028_316_846_592;
/// Pa·s in one lb/(ft·s).
const PA_S: f64 = 0.453_592_37 / 0.3048;
/// kJ/(kg·K) in one Btu/(lb·°F).
const KJ_KG_K: f64 = 4.1868;

impl Water {
    /// At a temperature and absolute pressure; none below 32 °F, where it boils, or above 350 °F.
    pub fn at(temperature: Temperature, pressure: Pressure) -> Option<Self> {
        let f = temperature.value();
        if !(32.0..=350.0).contains(&f) || pressure < saturation_pressure(temperature)? {
            return None;
        }
        let kelvin = (f + 459.67) / 1.8;
        let (volume, heat) = region_1(kelvin, pressure.psi() * 6_894.757_293_168 / 1e6);
        Some(Self {
            density: Density::new(1.0 / volume / KG_M3),
            viscosity: Viscosity::new(viscosity(kelvin, 1.0 / volume) / PA_S),
            specific_heat: SpecificHeat::new(heat / KJ_KG_K),
        })
    }
}

/// IAPWS-IF97 Table 2: exponents I and J and coefficient n of region 1.
const REGION_1: [(f64, f64, f64); 34] = [
    (0.0, -2.0, 0.146_329_712_131_67),
    (0.0, -1.0, -0.845_481_871_691_14),
    (0.0, 0.0, -3.756_360_367_204),
    (0.0, 1.0, 3.385_516_916_838_5),
    (0.0, 2.0, -0.957_919_633_878_72),
    (0.0, 3.0, 0.157_720_385_132_28),
    (0.0, 4.0, -0.016_616_417_199_501),
    (0.0, 5.0, 8.121_462_998_356_8e-4),
    (1.0, -9.0, 2.831_908_012_380_4e-4),
    (1.0, -7.0, -6.070_630_156_587_4e-4),
    (1.0, -1.0, -0.018_990_068_218_419),
    (1.0, 0.0, -0.032_529_748_770_505),
    (1.0, 1.0, -0.021_841_717_175_414),
    (1.0, 3.0, -5.283_835_796_993e-5),
    (2.0, -3.0, -4.718_432_107_326_7e-4),
    (2.0, 0.0, -3.000_178_079_302_6e-4),
    (2.0, 1.0, 4.766_139_390_698_7e-5),
    (2.0, 3.0, -4.414_184_533_084_6e-6),
    (2.0, 17.0, -7.269_499_629_759_4e-16),
    (3.0, -4.0, -3.167_964_484_505_4e-5),
    (3.0, 0.0, -2.827_079_798_531_2e-6),
    (3.0, 6.0, -8.520_512_812_010_3e-10),
    (4.0, -5.0, -2.242_528_190_8e-6),
    (4.0, -2.0, -6.517_122_289_560_1e-7),
    (4.0, 10.0, -1.434_172_993_792_4e-13),
    (5.0, -8.0, -4.051_699_686_011_7e-7),
    (8.0, -11.0, -1.273_430_174_164_1e-9),
    (8.0, -6.0, -1.742_487_123_063_4e-10),
    (21.0, -29.0, -6.876_213_129_553_1e-19),
    (23.0, -31.0, 1.447_830_782_852_1e-20),
    (29.0, -38.0, 2.633_578_166_279_5e-23),
    (30.0, -39.0, -1.194_762_264_007_1e-23),
    (31.0, -40.0, 1.822_809_458_140_4e-24),
    (32.0, -41.0, -9.353_708_729_245_8e-26),
];

/// Specific volume, m³/kg, and isobaric specific heat, kJ/(kg·K): IAPWS-IF97 equation 7 and Table 3.
fn region_1(kelvin: f64, megapascal: f64) -> (f64, f64) {
    const R: f64 = 0.461_526;
    let pi = megapascal / 16.53;
    let tau = 1386.0 / kelvin;
    let (mut by_pi, mut by_tau_twice) = (0.0, 0.0);
    for (i, j, n) in REGION_1 {
        let a = 7.1 - pi;
        let b = tau - 1.222;
        by_pi -= n * i * libm::pow(a, i - 1.0) * libm::pow(b, j);
        by_tau_twice += n * libm::pow(a, i) * j * (j - 1.0) * libm::pow(b, j - 2.0);
    }
    (
        R * 1e-3 * kelvin / megapascal * pi * by_pi,
        -R * tau * tau * by_tau_twice,
    )
}

/// IAPWS 2008 viscosity, Table 2: i, j and coefficient of the term in density.
const DENSE: [(f64, f64, f64); 21] = [
    (0.0, 0.0, 0.520_094),
    (1.0, 0.0, 0.085_089_5),
    (2.0, 0.0, -1.083_74),
    (3.0, 0.0, -0.289_555),
    (0.0, 1.0, 0.222_531),
    (1.0, 1.0, 0.999_115),
    (2.0, 1.0, 1.887_97),
    (3.0, 1.0, 1.266_13),
    (5.0, 1.0, 0.120_573),
    (0.0, 2.0, -0.281_378),
    (1.0, 2.0, -0.906_851),
    (2.0, 2.0, -0.772_479),
    (3.0, 2.0, -0.489_837),
    (4.0, 2.0, -0.257_040),
    (0.0, 3.0, 0.161_913),
    (1.0, 3.0, 0.257_399),
    (0.0, 4.0, -0.032_537_2),
    (3.0, 4.0, 0.069_845_2),
    (4.0, 5.0, 0.008_721_02),
    (3.0, 6.0, -0.004_356_73),
    (5.0, 6.0, -0.000_593_264),
];

/// Dynamic viscosity, Pa·s, at a density in kg/m³: IAPWS 2008 equations 10 to 12.
fn viscosity(kelvin: f64, density: f64) -> f64 {
    let t = kelvin / 647.096;
    let d = density / 322.0;
    let thin = 100.0 * t.sqrt()
        / (1.677_52 + 2.204_62 / t + 0.636_656_4 / (t * t) - 0.241_605 / (t * t * t));
    let sum: f64 = DENSE
        .iter()
        .map(|(i, j, h)| h * libm::pow(1.0 / t - 1.0, *i) * libm::pow(d - 1.0, *j))
        .sum();
    thin * libm::exp(d * sum) * 1e-6
}

#[cfg(test)]
mod tests {
    use super::*;

    /// IAPWS-IF97 Table 5.
    #[test]
    fn region_1_gives_the_release_s_test_values() {
        for (kelvin, megapascal, volume, heat) in [
            (300.0, 3.0, 0.100_215_168e-2, 4.173_012_18),
            (300.0, 80.0, 0.971_180_894e-3, 4.010_089_87),
            (500.0, 3.0, 0.120_241_800e-2, 4.655_806_82),
        ] {
            let (v, cp) = region_1(kelvin, megapascal);
            assert!((v / volume - 1.0).abs() < 1e-8, "{v}");
            assert!((cp / heat - 1.0).abs() < 1e-8, "{cp}");
        }
    }

    /// IAPWS R12-08 Table 4.
    #[test]
    fn viscosity_gives_the_release_s_test_values() {
        for (kelvin, density, micro) in [
            (298.15, 998.0, 889.735_100),
            (298.15, 1200.0, 1_437.649_467),
            (373.15, 1000.0, 307.883_622),
        ] {
            let found = viscosity(kelvin, density) * 1e6;
            assert!((found / micro - 1.0).abs() < 1e-8, "{found}");
        }
    }

    #[test]
    fn steam_and_ice_are_refused() {
        assert!(Water::at(Temperature::new(213.0), ATMOSPHERE).is_none());
        assert!(Water::at(Temperature::new(213.0), CLOSED_LOOP).is_some());
        assert!(Water::at(Temperature::new(31.9), ATMOSPHERE).is_none());
        assert!(Water::at(Temperature::new(f64::NAN), ATMOSPHERE).is_none());
    }
}
