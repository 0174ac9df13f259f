//! What a water pipe carries: water, or water with propylene glycol.

use super::root::halve;
use super::water::Water;
use crate::quantity::{Density, Pressure, Ratio, SpecificHeat, Temperature, Viscosity};

/// A liquid of heating and cooling loops.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fluid {
    /// Water alone.
    Water,
    /// Propylene glycol in water, percent by mass.
    PropyleneGlycol(Ratio),
}

/// Coefficients by powers of temperature (rows) and of mass fraction (columns), about the base point.
type Fit = [[f64; 6]; 4];

/// Base temperature, K, and base mass fraction of the fits.
const BASE: (f64, f64) = (305.8583, 0.307_031);

/// kg/m³. Source of all four: Melinder, Properties of Secondary Working Fluids for Indirect Systems (2010).
const DENSITY: Fit = [
    [1018.0, 76.04, -24.98, -155.0, -113.1, 234.2],
    [-0.5406, -0.945, 0.27, 2.829, -2.221, 0.0],
    [-2.666e-3, 5.541e-3, -4.018e-3, -7.175e-3, 0.0, 0.0],
    [1.347e-5, -1.343e-5, 3.376e-5, 0.0, 0.0, 0.0],
];

/// J/(kg·K).
const SPECIFIC_HEAT: Fit = [
    [3882.0, -1304.0, -1598.0, 353.9, 5000.0, -4959.0],
    [2.699, 5.07, 0.9534, 31.02, -71.35, 0.0],
    [-1.659e-3, -4.752e-3, 0.1167, -0.295, 0.0, 0.0],
    [-1.032e-5, 1.522e-4, -4.87e-4, 0.0, 0.0, 0.0],
];

/// Natural logarithm of mPa·s.
const LOG_VISCOSITY: Fit = [
    [0.6837, 3.328, 0.5453, -3.9, -1.587, 35.64],
    [-3.045e-2, -3.984e-2, -8.6e-4, 0.1054, 4.475e-2, 0.0],
    [2.525e-4, 4.332e-4, -1.593e-4, -1.589e-3, 0.0, 0.0],
    [-1.399e-6, -1.86e-6, -4.465e-7, 0.0, 0.0, 0.0],
];

/// W/(m·K).
const CONDUCTIVITY: Fit = [
    [0.4513, -0.4795, 0.2076, -9.083e-2, -5.952e-2, 0.2104],
    [7.955e-4, -1.678e-3, 1.563e-3, -2.518e-3, -3.605e-3, 0.0],
    [3.482e-8, 8.941e-6, -4.615e-5, 6.543e-5, 0.0, 0.0],
    [-5.966e-9, 1.493e-8, 9.897e-8, 0.0, 0.0, 0.0],
];

/// Freezing point, K, by powers of mass fraction.
const FREEZING: [f64; 6] = [259.9, -66.31, -109.4, -228.3, -340.9, 146.5];

fn series(row: &[f64; 6], x: f64) -> f64 {
    row.iter().rev().fold(0.0, |sum, c| sum * x + c)
}

fn fit(of: &Fit, kelvin: f64, fraction: f64) -> f64 {
    let (t, x) = (kelvin - BASE.0, fraction - BASE.1);
    of.iter()
        .rev()
        .fold(0.0, |sum, row| sum * t + series(row, x))
}

fn kelvin(temperature: Temperature) -> f64 {
    (temperature.value() + 459.67) / 1.8
}

impl Fluid {
    /// From `water` or `PG30` (percent by mass, to 60).
    pub fn read(text: &str) -> Option<Self> {
        if text == "water" {
            return Some(Self::Water);
        }
        let percent: f64 = text.strip_prefix("PG")?.parse().ok()?;
        (percent > 0.0 && percent <= 60.0).then(|| Self::PropyleneGlycol(Ratio::new(percent)))
    }

    /// Water, or water with this much glycol where there is any; none beyond 60 %.
    pub fn with_glycol(percent: Option<Ratio>) -> Option<Self> {
        match percent {
            None => Some(Self::Water),
            Some(percent) if percent.value() <= 0.0 => Some(Self::Water),
            Some(percent) if percent.value() <= 60.0 => Some(Self::PropyleneGlycol(percent)),
            Some(_) => None,
        }
    }

    fn fraction(self) -> f64 {
        match self {
            Self::Water => 0.0,
            Self::PropyleneGlycol(percent) => percent.value() / 100.0,
        }
    }

    /// The temperature at which it begins to freeze.
    pub fn freezes(self) -> Temperature {
        match self {
            Self::Water => Temperature::new(32.0),
            Self::PropyleneGlycol(_) => {
                Temperature::new(series(&FREEZING, self.fraction() - BASE.1) * 1.8 - 459.67)
            }
        }
    }

    /// The least share of glycol, % by mass, that stays liquid down to a temperature; none where 60 % does not.
    pub fn share_for(coldest: Temperature) -> Option<Ratio> {
        let liquid = |percent: f64| {
            Self::PropyleneGlycol(Ratio::new(percent)).freezes().value() <= coldest.value()
        };
        if !liquid(60.0) {
            return None;
        }
        Some(Ratio::new(halve(0.0, 60.0, 1e-6, liquid)))
    }

    /// How well heat passes into it from a tube's wall, as a factor that counts among its own kind: k^0.6 ρ^0.8
    /// cp^0.4 μ^−0.4 of Dittus and Boelter, at one velocity. Conductivity of water is that of the fit without glycol.
    pub fn film(self, temperature: Temperature, pressure: Pressure) -> Option<f64> {
        let state = self.at(temperature, pressure)?;
        let conducts = fit(&CONDUCTIVITY, kelvin(temperature), self.fraction());
        Some(
            libm::pow(conducts, 0.6)
                * libm::pow(state.density.value(), 0.8)
                * libm::pow(state.specific_heat.value(), 0.4)
                * libm::pow(state.viscosity.value(), -0.4),
        )
    }

    /// Its properties at a temperature and absolute pressure; none when frozen, boiling, or outside the fits.
    pub fn at(self, temperature: Temperature, pressure: Pressure) -> Option<Water> {
        let Self::PropyleneGlycol(percent) = self else {
            return Water::at(temperature, pressure);
        };
        let fraction = percent.value() / 100.0;
        let kelvin = kelvin(temperature);
        let freezes = series(&FREEZING, fraction - BASE.1);
        if !(freezes..=373.15).contains(&kelvin) || !(0.0..=0.6).contains(&fraction) {
            return None;
        }
        Some(Water {
            density: Density::new(fit(&DENSITY, kelvin, fraction) / 16.018_463_373_96),
            viscosity: Viscosity::new(
                libm::exp(fit(&LOG_VISCOSITY, kelvin, fraction)) * 1e-3 / 1.488_163_943_569_6,
            ),
            specific_heat: SpecificHeat::new(fit(&SPECIFIC_HEAT, kelvin, fraction) / 4186.8),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::water::CLOSED_LOOP;
    use super::*;

    #[test]
    fn names_read_and_limits_hold() {
        assert_eq!(Fluid::read("water"), Some(Fluid::Water));
        assert_eq!(Fluid::read("PG70"), None);
        assert_eq!(Fluid::read("brine"), None);
        let forty = Fluid::read("PG40").unwrap();
        assert!(forty.at(Temperature::new(0.0), CLOSED_LOOP).is_some());
        assert!(forty.at(Temperature::new(-20.0), CLOSED_LOOP).is_none());
    }

    /// kg/m³, J/(kg·K) and Pa·s of the `CoolProp` library (incompressible MPG, after Melinder), at °C.
    #[test]
    fn glycol_agrees_with_a_general_library() {
        for (percent, celsius, density, heat, viscosity) in [
            (10.0, 20.0, 1006.20317462, 4076.34099078, 0.00143226548271),
            (10.0, 60.0, 989.808891524, 4130.343642, 0.000613657655926),
            (10.0, 90.0, 971.948802444, 4175.96478612, 0.000397426405643),
            (30.0, 20.0, 1023.7849657, 3857.0040105, 0.00296497551633),
            (30.0, 60.0, 1001.15283043, 3962.33927872, 0.000994578485671),
            (30.0, 90.0, 980.545539031, 4036.21649185, 0.000600484807174),
            (45.0, 20.0, 1035.95381992, 3621.0652103, 0.00530729134263),
            (45.0, 60.0, 1008.56065042, 3760.7901932, 0.00145784354415),
            (45.0, 90.0, 985.71174862, 3864.09643307, 0.000817839833468),
            (60.0, 20.0, 1043.02710404, 3340.33508687, 0.00927862470559),
            (60.0, 60.0, 1012.8104814, 3520.7254832, 0.00223617203925),
            (60.0, 90.0, 988.731943552, 3653.93101907, 0.00113032681122),
        ] {
            let fluid = Fluid::PropyleneGlycol(Ratio::new(percent));
            let state = fluid
                .at(Temperature::new(celsius * 1.8 + 32.0), CLOSED_LOOP)
                .unwrap();
            let near = |ours: f64, theirs: f64| (ours / theirs - 1.0).abs() < 1e-6;
            assert!(near(state.density.value() * 16.018_463_373_96, density));
            assert!(near(state.specific_heat.value() * 4186.8, heat));
            assert!(near(
                state.viscosity.value() * 1.488_163_943_569_6,
                viscosity
            ));
        }
    }

    /// Conductivity of the library's file of the same fit at its base: 0.4513 W/(m·K) at 90.9 °F and 30.7 %.
    /// With water against tables: 0.670 W/(m·K) at 80 °C (IAPWS 2011), 2 %.
    #[test]
    fn conductivity_is_that_of_the_fit_and_near_water_s_without_glycol() {
        assert!((fit(&CONDUCTIVITY, BASE.0, BASE.1) - 0.4513).abs() < 1e-12);
        assert!((fit(&CONDUCTIVITY, 353.15, 0.0) / 0.670 - 1.0).abs() < 0.02);
    }

    #[test]
    fn glycol_takes_heat_worse_and_freezes_later() {
        let film = |name: &str| {
            let fluid = Fluid::read(name).unwrap();
            fluid.film(Temperature::new(150.0), CLOSED_LOOP).unwrap()
        };
        assert!(film("PG30") < 0.8 * film("water"));
        assert!(film("PG50") < film("PG30"));
        let share = Fluid::share_for(Temperature::new(5.0)).unwrap();
        let there = Fluid::PropyleneGlycol(share).freezes().value();
        assert!((there - 5.0).abs() < 1e-3, "{there}");
        assert_eq!(Fluid::share_for(Temperature::new(-80.0)), None);
        assert_eq!(Fluid::with_glycol(Some(Ratio::new(61.0))), None);
        assert_eq!(
            Fluid::with_glycol(Some(Ratio::new(0.0))),
            Some(Fluid::Water)
        );
    }

    /// Freezing points in K of the same library: liquid a hundredth above, not held a hundredth below.
    #[test]
    fn glycol_freezes_where_a_general_library_says() {
        for (percent, kelvin) in [
            (10.0, 270.2830127),
            (30.0, 260.3608959),
            (45.0, 247.3827355),
            (60.0, 223.1473533),
        ] {
            let fluid = Fluid::PropyleneGlycol(Ratio::new(percent));
            let at = |kelvin: f64| fluid.at(Temperature::new(kelvin * 1.8 - 459.67), CLOSED_LOOP);
            assert!(at(kelvin + 0.01).is_some(), "{percent}");
            assert!(at(kelvin - 0.01).is_none(), "{percent}");
        }
    }
}
