//! Moist air: pressure, dry bulb and humidity ratio, and everything that follows from the three.
//!
//! Source: ASHRAE Handbook—Fundamentals, Psychrometrics, ideal-gas equations in inch-pound units
//! (range −148 to 392 °F). Saturation is over ice up to the triple point. Reference states: dry air
//! at 0 °F, liquid water at 32 °F.

use super::super::root::cross;
use super::NoSuchAir;
use crate::quantity::{
    Density, Enthalpy, Humidity, HumidityRatio, Length, Pressure, SpecificVolume, Temperature,
};

/// Lowest temperature of the saturation equations, °F.
pub(super) const COLDEST: f64 = -148.0;
/// Highest temperature of the saturation equations, °F.
pub(super) const HOTTEST: f64 = 392.0;
/// Triple point of water, °F: ice below.
const TRIPLE_POINT: f64 = 32.018;
/// Zero of the Fahrenheit scale in degrees Rankine.
pub(in super::super) const RANKINE: f64 = 459.67;
/// Mass of water over mass of dry air, per mole.
const MOLE_RATIO: f64 = 0.621_945;
/// Least humidity ratio that has a dew point worth naming, lb/lb.
const NEARLY_DRY: f64 = 1e-7;

/// Pressure of the standard atmosphere at an altitude; none outside −16,000 to 36,000 ft.
///
/// p = 14.696 (1 − 6.8754×10⁻⁶ h)^5.2559 psia, h in ft.
pub fn standard_pressure(altitude: Length) -> Option<Pressure> {
    let feet = altitude.to_feet();
    (-16_000.0..=36_000.0)
        .contains(&feet)
        .then(|| Pressure::from_psi(14.696 * libm::pow(1.0 - 6.8754e-6 * feet, 5.2559)))
}

/// Vapour pressure of saturated air, over ice up to the triple point; none outside −148 to 392 °F.
///
/// Source: ASHRAE Handbook—Fundamentals, Psychrometrics, equations for saturation over ice and liquid water.
pub fn saturation_pressure(temperature: Temperature) -> Option<Pressure> {
    let f = temperature.value();
    (COLDEST..=HOTTEST)
        .contains(&f)
        .then(|| Pressure::from_psi(saturation_psi(f)))
}

pub(super) fn saturation_psi(f: f64) -> f64 {
    libm::exp(saturation_logarithm(f))
}

/// Natural logarithm of the vapour pressure of saturated air in psia.
fn saturation_logarithm(f: f64) -> f64 {
    let t = f + RANKINE;
    if f <= TRIPLE_POINT {
        -1.021_416_5e4 / t - 4.893_242_8 - 5.376_579_4e-3 * t
            + 1.920_237_7e-7 * t * t
            + 3.557_583_2e-10 * t * t * t
            - 9.034_468_8e-14 * t * t * t * t
            + 4.163_501_9 * libm::log(t)
    } else {
        -1.044_039_7e4 / t - 11.294_650 - 2.702_235_5e-2 * t + 1.289_036_0e-5 * t * t
            - 2.478_068_1e-9 * t * t * t
            + 6.545_967_3 * libm::log(t)
    }
}

/// Humidity ratio at a vapour pressure, both in psia.
pub(super) fn ratio_at(vapour: f64, pressure: f64) -> f64 {
    MOLE_RATIO * vapour / (pressure - vapour)
}

/// Humidity ratio of air whose wet-bulb thermometer reads `wet`: ASHRAE equations for water and for ice.
pub(super) fn ratio_at_wet_bulb(dry: f64, wet: f64, pressure: f64) -> f64 {
    let saturated = ratio_at(saturation_psi(wet), pressure);
    if wet >= 32.0 {
        ((1093.0 - 0.556 * wet) * saturated - 0.240 * (dry - wet)) / (1093.0 + 0.444 * dry - wet)
    } else {
        ((1220.0 - 0.04 * wet) * saturated - 0.240 * (dry - wet))
            / (1220.0 + 0.444 * dry - 0.48 * wet)
    }
}

/// A state of moist air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MoistAir {
    pressure: Pressure,
    dry_bulb: Temperature,
    humidity_ratio: HumidityRatio,
}

impl MoistAir {
    /// Checks dry bulb and pressure, and gives both as numbers, °F and psia.
    fn frame(dry_bulb: Temperature, pressure: Pressure) -> Result<(f64, f64), NoSuchAir> {
        let dry = dry_bulb.value();
        if !(COLDEST..=HOTTEST).contains(&dry) {
            return Err(NoSuchAir::Temperature);
        }
        if pressure.value().is_nan() || pressure.value() <= 0.0 {
            return Err(NoSuchAir::Boils);
        }
        Ok((dry, pressure.psi()))
    }

    fn with(pressure: Pressure, dry_bulb: Temperature, ratio: f64) -> Self {
        Self {
            pressure,
            dry_bulb,
            humidity_ratio: HumidityRatio::new(ratio),
        }
    }

    /// From relative humidity.
    pub fn from_relative_humidity(
        dry_bulb: Temperature,
        humidity: Humidity,
        pressure: Pressure,
    ) -> Result<Self, NoSuchAir> {
        let (dry, psia) = Self::frame(dry_bulb, pressure)?;
        if !(0.0..=100.0).contains(&humidity.value()) {
            return Err(NoSuchAir::RelativeHumidity);
        }
        let vapour = humidity.value() / 100.0 * saturation_psi(dry);
        if vapour >= psia {
            return Err(NoSuchAir::Boils);
        }
        Ok(Self::with(pressure, dry_bulb, ratio_at(vapour, psia)))
    }

    /// From the wet bulb.
    pub fn from_wet_bulb(
        dry_bulb: Temperature,
        wet_bulb: Temperature,
        pressure: Pressure,
    ) -> Result<Self, NoSuchAir> {
        let (dry, psia) = Self::frame(dry_bulb, pressure)?;
        let wet = wet_bulb.value();
        if !(COLDEST..=HOTTEST).contains(&wet) {
            return Err(NoSuchAir::Temperature);
        }
        if wet > dry {
            return Err(NoSuchAir::WetBulbAbove);
        }
        if saturation_psi(wet) >= psia {
            return Err(NoSuchAir::Boils);
        }
        let ratio = ratio_at_wet_bulb(dry, wet, psia);
        if ratio < -1e-12 {
            let dry_air = Self::with(pressure, dry_bulb, 0.0);
            return Err(NoSuchAir::WetBulbBelow(dry_air.wet_bulb()));
        }
        Ok(Self::with(pressure, dry_bulb, ratio.max(0.0)))
    }

    /// From the dew point.
    pub fn from_dew_point(
        dry_bulb: Temperature,
        dew_point: Temperature,
        pressure: Pressure,
    ) -> Result<Self, NoSuchAir> {
        let (dry, psia) = Self::frame(dry_bulb, pressure)?;
        let dew = dew_point.value();
        if !(COLDEST..=HOTTEST).contains(&dew) {
            return Err(NoSuchAir::Temperature);
        }
        if dew > dry {
            return Err(NoSuchAir::DewPointAbove);
        }
        let vapour = saturation_psi(dew);
        if vapour >= psia {
            return Err(NoSuchAir::Boils);
        }
        Ok(Self::with(pressure, dry_bulb, ratio_at(vapour, psia)))
    }

    /// From the humidity ratio.
    pub fn from_humidity_ratio(
        dry_bulb: Temperature,
        humidity_ratio: HumidityRatio,
        pressure: Pressure,
    ) -> Result<Self, NoSuchAir> {
        let (dry, psia) = Self::frame(dry_bulb, pressure)?;
        let ratio = humidity_ratio.value();
        if ratio.is_nan() || ratio < 0.0 {
            return Err(NoSuchAir::HumidityRatio);
        }
        let saturated = saturation_psi(dry);
        let vapour = psia * ratio / (MOLE_RATIO + ratio);
        // Saturated air whose volume or ratio was written with ten digits may lie a hair above itself.
        if vapour > saturated * (1.0 + 1e-7) {
            let most = HumidityRatio::new(ratio_at(saturated, psia));
            return Err(NoSuchAir::Supersaturated(most));
        }
        Ok(Self::with(pressure, dry_bulb, ratio))
    }

    /// Absolute pressure.
    pub const fn pressure(&self) -> Pressure {
        self.pressure
    }

    /// Dry bulb.
    pub const fn dry_bulb(&self) -> Temperature {
        self.dry_bulb
    }

    /// Mass of water per mass of dry air.
    pub const fn humidity_ratio(&self) -> HumidityRatio {
        self.humidity_ratio
    }

    fn vapour_psi(&self) -> f64 {
        let ratio = self.humidity_ratio.value();
        self.pressure.psi() * ratio / (MOLE_RATIO + ratio)
    }

    /// Vapour pressure over that of saturated air.
    pub fn relative_humidity(&self) -> Humidity {
        let share = self.vapour_psi() / saturation_psi(self.dry_bulb.value());
        Humidity::new(100.0 * share.min(1.0))
    }

    /// Temperature at which this air would be saturated; none when it is dry.
    pub fn dew_point(&self) -> Option<Temperature> {
        if self.humidity_ratio.value() < NEARLY_DRY {
            return None;
        }
        let vapour = self.vapour_psi();
        let dry = self.dry_bulb.value();
        // Saturation is near a straight line in its logarithm.
        let sought = libm::log(vapour);
        let dew = cross(COLDEST, dry, 1e-11, |f| saturation_logarithm(f) - sought);
        Some(Temperature::new(dew))
    }

    /// Reading of a wet-bulb thermometer. Near 32 °F water and ice on the wick can give two readings;
    /// this is the one that the search from dew point to dry bulb meets.
    pub fn wet_bulb(&self) -> Temperature {
        let psia = self.pressure.psi();
        let dry = self.dry_bulb.value();
        let ratio = self.humidity_ratio.value();
        let low = self.dew_point().map_or(COLDEST, Temperature::value);
        let wet = cross(low, dry, 1e-11, |f| {
            if saturation_psi(f) >= psia {
                return f64::INFINITY;
            }
            ratio_at_wet_bulb(dry, f, psia) - ratio
        });
        Temperature::new(wet)
    }

    /// Heat content per pound of dry air: 0.240 t + W (1061 + 0.444 t).
    pub fn enthalpy(&self) -> Enthalpy {
        let t = self.dry_bulb.value();
        Enthalpy::new(0.240 * t + self.humidity_ratio.value() * (1061.0 + 0.444 * t))
    }

    /// Volume per pound of dry air: 53.350 (t + 459.67) (1 + 1.607858 W) / (144 p).
    pub fn specific_volume(&self) -> SpecificVolume {
        let t = self.dry_bulb.value() + RANKINE;
        let wet = 1.0 + 1.607_858 * self.humidity_ratio.value();
        SpecificVolume::new(53.350 * t * wet / (144.0 * self.pressure.psi()))
    }

    /// Mass of moist air per volume: (1 + W) / v.
    pub fn density(&self) -> Density {
        Density::new((1.0 + self.humidity_ratio.value()) / self.specific_volume().value())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sea_level() -> Pressure {
        standard_pressure(Length::ZERO).unwrap()
    }

    #[test]
    fn impossible_air_is_refused_with_its_reason() {
        let t = Temperature::new;
        let p = sea_level();
        assert_eq!(
            MoistAir::from_wet_bulb(t(70.0), t(70.1), p),
            Err(NoSuchAir::WetBulbAbove)
        );
        assert!(MoistAir::from_wet_bulb(t(70.0), t(70.0), p).is_ok());
        assert!(matches!(
            MoistAir::from_wet_bulb(t(75.0), t(40.0), p),
            Err(NoSuchAir::WetBulbBelow(least)) if (least.value() - 45.9277).abs() < 1e-3
        ));
        assert_eq!(
            MoistAir::from_dew_point(t(70.0), t(70.1), p),
            Err(NoSuchAir::DewPointAbove)
        );
        assert_eq!(
            MoistAir::from_relative_humidity(t(70.0), Humidity::new(100.1), p),
            Err(NoSuchAir::RelativeHumidity)
        );
        assert_eq!(
            MoistAir::from_relative_humidity(t(250.0), Humidity::new(60.0), p),
            Err(NoSuchAir::Boils)
        );
        assert!(matches!(
            MoistAir::from_humidity_ratio(t(70.0), HumidityRatio::new(0.02), p),
            Err(NoSuchAir::Supersaturated(_))
        ));
        assert_eq!(
            MoistAir::from_relative_humidity(t(f64::NAN), Humidity::new(50.0), p),
            Err(NoSuchAir::Temperature)
        );
    }

    /// Vapour pressure of water: 212 °F at one atmosphere (14.696 psia) and 0.08865 psia at 32 °F,
    /// from the steam tables.
    #[test]
    fn saturation_agrees_with_the_steam_tables() {
        let psi = |f| saturation_pressure(Temperature::new(f)).unwrap().psi();
        assert!((psi(212.0) / 14.696 - 1.0).abs() < 1e-3);
        assert!((psi(32.018) / 0.088_72 - 1.0).abs() < 1e-3);
        assert!(saturation_pressure(Temperature::new(392.1)).is_none());
    }

    proptest::proptest! {
        /// Any air that exists comes back from its humidity ratio, dew point and wet bulb.
        #[test]
        fn a_state_comes_back_from_each_of_its_properties(
            dry in -40.0..180.0_f64,
            percent in 1.0..100.0_f64,
            feet in -1000..12_000_i64,
        ) {
            let p = standard_pressure(Length::feet(feet)).unwrap();
            let t = Temperature::new(dry);
            let air = MoistAir::from_relative_humidity(t, Humidity::new(percent), p).unwrap();
            let ratio = air.humidity_ratio().value();
            let wet = air.wet_bulb();
            let dew = air.dew_point().unwrap();
            proptest::prop_assert!(dew.value() <= wet.value() + 1e-9 && wet <= t);
            let back = MoistAir::from_humidity_ratio(t, air.humidity_ratio(), p).unwrap();
            proptest::prop_assert!((back.relative_humidity().value() - percent).abs() < 1e-9);
            let back = MoistAir::from_dew_point(t, dew, p).unwrap().humidity_ratio().value();
            // Over ice and over water saturation differs by a hair at the triple point.
            proptest::prop_assert!((back / ratio - 1.0).abs() < 1e-4, "{back} {ratio}");
            let back = MoistAir::from_wet_bulb(t, wet, p).unwrap().humidity_ratio().value();
            // At 32 F the wick turns from ice to water and the equation jumps.
            let jump = if (wet.value() - 32.0).abs() < 1e-6 { 0.1 } else { 1e-8 };
            proptest::prop_assert!((back - ratio).abs() <= jump * ratio.max(1e-4), "{back} {ratio}");
        }

        /// More water at one temperature: heavier with heat, lighter in weight, wetter by every reading.
        #[test]
        fn properties_rise_with_moisture(
            dry in 33.0..150.0_f64,
            low in 1.0..99.0_f64,
            more in 0.5..1.0_f64,
        ) {
            let p = sea_level();
            let at = |percent| {
                MoistAir::from_relative_humidity(Temperature::new(dry), Humidity::new(percent), p)
                    .unwrap()
            };
            let (a, b) = (at(low), at(low + more));
            proptest::prop_assert!(b.enthalpy() > a.enthalpy());
            proptest::prop_assert!(b.density() < a.density());
            proptest::prop_assert!(b.dew_point() > a.dew_point());
        }
    }
}
