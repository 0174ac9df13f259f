//! Moist air from any two of its usual properties, whether the dry bulb is one of them or not.

use super::super::root::halve;
use super::NoSuchAir;
use super::moist_air::{
    COLDEST, HOTTEST, MoistAir, RANKINE, ratio_at, ratio_at_wet_bulb, saturation_psi,
};
use crate::quantity::{Enthalpy, Humidity, HumidityRatio, Pressure, SpecificVolume, Temperature};

/// A property that is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Property {
    /// Dry bulb.
    DryBulb(Temperature),
    /// Relative humidity.
    RelativeHumidity(Humidity),
    /// Wet bulb.
    WetBulb(Temperature),
    /// Dew point.
    DewPoint(Temperature),
    /// Humidity ratio.
    HumidityRatio(HumidityRatio),
    /// Enthalpy per pound of dry air.
    Enthalpy(Enthalpy),
    /// Volume per pound of dry air.
    SpecificVolume(SpecificVolume),
}

use Property as P;

impl Property {
    /// Its place in the order that [`MoistAir::from_two`] works in.
    const fn rank(self) -> u8 {
        match self {
            P::DryBulb(_) => 0,
            P::HumidityRatio(_) | P::DewPoint(_) => 1,
            P::RelativeHumidity(_) => 2,
            P::WetBulb(_) => 3,
            P::Enthalpy(_) => 4,
            P::SpecificVolume(_) => 5,
        }
    }

    /// Humidity ratio of the air that has this property at a dry bulb.
    fn ratio(self, dry: f64, psia: f64) -> f64 {
        let at_vapour = |vapour: f64| {
            if vapour < psia {
                ratio_at(vapour, psia)
            } else {
                f64::INFINITY
            }
        };
        match self {
            P::DryBulb(_) => f64::NAN,
            P::HumidityRatio(ratio) => ratio.value(),
            P::DewPoint(dew) => at_vapour(saturation_psi(dew.value())),
            P::RelativeHumidity(share) => at_vapour(share.value() / 100.0 * saturation_psi(dry)),
            P::WetBulb(wet) => ratio_at_wet_bulb(dry, wet.value(), psia),
            P::Enthalpy(heat) => (heat.value() - 0.240 * dry) / (1061.0 + 0.444 * dry),
            P::SpecificVolume(volume) => {
                (volume.value() * 144.0 * psia / (53.350 * (dry + RANKINE)) - 1.0) / 1.607_858
            }
        }
    }

    /// Whether a dry bulb is too high for this property where the other asks for `ratio`.
    ///
    /// At one relative humidity the ratio rises with the dry bulb, along the others it falls; each falls
    /// faster than those before it in [`Self::rank`], so that two lines cross once.
    fn is_passed(self, dry: f64, ratio: f64, psia: f64) -> bool {
        let own = self.ratio(dry, psia);
        if matches!(self, P::RelativeHumidity(_)) {
            own > ratio
        } else {
            own < ratio
        }
    }
}

impl MoistAir {
    /// From two properties; refused when they say the same twice, or when no air has both.
    pub fn from_two(one: Property, other: Property, pressure: Pressure) -> Result<Self, NoSuchAir> {
        let (first, second) = if one.rank() <= other.rank() {
            (one, other)
        } else {
            (other, one)
        };
        match (first, second) {
            (P::DryBulb(dry), P::RelativeHumidity(share)) => {
                Self::from_relative_humidity(dry, share, pressure)
            }
            (P::DryBulb(dry), P::WetBulb(wet)) => Self::from_wet_bulb(dry, wet, pressure),
            (P::DryBulb(dry), P::DewPoint(dew)) => Self::from_dew_point(dry, dew, pressure),
            (P::DryBulb(dry), P::HumidityRatio(ratio)) => {
                Self::from_humidity_ratio(dry, ratio, pressure)
            }
            (P::DryBulb(dry), P::Enthalpy(_) | P::SpecificVolume(_)) => {
                let ratio = second.ratio(dry.value(), pressure.psi());
                Self::from_humidity_ratio(dry, HumidityRatio::new(ratio), pressure)
            }
            // Lines of wet bulb and of enthalpy run along each other.
            (P::WetBulb(_), P::Enthalpy(_)) => Err(NoSuchAir::SameTwice),
            _ if first.rank() == second.rank() => Err(NoSuchAir::SameTwice),
            _ => Self::meet(first, second, pressure),
        }
    }

    /// Looks for the dry bulb at which both properties ask for one humidity ratio.
    fn meet(first: Property, second: Property, pressure: Pressure) -> Result<Self, NoSuchAir> {
        let psia = pressure.psi();
        if psia.is_nan() || psia <= 0.0 {
            return Err(NoSuchAir::Boils);
        }
        let mut low = COLDEST;
        for property in [first, second] {
            match property {
                P::WetBulb(t) | P::DewPoint(t) => {
                    if !(COLDEST..=HOTTEST).contains(&t.value()) {
                        return Err(NoSuchAir::Temperature);
                    }
                    low = low.max(t.value());
                }
                P::RelativeHumidity(share) if !(0.0..=100.0).contains(&share.value()) => {
                    return Err(NoSuchAir::RelativeHumidity);
                }
                _ => {}
            }
        }
        let dry = halve(low, HOTTEST, 1e-11, |dry| {
            second.is_passed(dry, first.ratio(dry, psia), psia)
        });
        let ratio = first.ratio(dry, psia);
        let apart = (second.ratio(dry, psia) - ratio).abs();
        if apart.is_nan() || apart > 1e-8 {
            return Err(NoSuchAir::NoneHasBoth);
        }
        Self::from_humidity_ratio(
            Temperature::new(dry),
            HumidityRatio::new(ratio.max(0.0)),
            pressure,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::super::standard_pressure;
    use super::*;
    use crate::quantity::Length;

    fn properties(air: &MoistAir) -> Vec<Property> {
        vec![
            P::DryBulb(air.dry_bulb()),
            P::RelativeHumidity(air.relative_humidity()),
            P::WetBulb(air.wet_bulb()),
            P::DewPoint(air.dew_point().unwrap()),
            P::HumidityRatio(air.humidity_ratio()),
            P::Enthalpy(air.enthalpy()),
            P::SpecificVolume(air.specific_volume()),
        ]
    }

    proptest::proptest! {
        /// Any two properties of a state give the state back, unless they say the same twice.
        #[test]
        fn any_two_give_the_state_back(
            dry in 36.0..150.0_f64,
            percent in 5.0..99.0_f64,
            feet in -1000..12_000_i64,
        ) {
            let pressure = standard_pressure(Length::feet(feet)).unwrap();
            let air = MoistAir::from_relative_humidity(
                Temperature::new(dry),
                Humidity::new(percent),
                pressure,
            )
            .unwrap();
            // Near freezing the wet bulb has two readings and dew points change from ice to water.
            proptest::prop_assume!(air.dew_point().unwrap().value() > 33.0);
            let all = properties(&air);
            for (at, one) in all.iter().enumerate() {
                for other in all.iter().skip(at + 1) {
                    match MoistAir::from_two(*one, *other, pressure) {
                        Ok(back) => {
                            let off = (back.dry_bulb().value() - dry).abs();
                            proptest::prop_assert!(off < 1e-5, "{one:?} {other:?} {back:?}");
                            let off = back.humidity_ratio().value() - air.humidity_ratio().value();
                            proptest::prop_assert!(off.abs() < 1e-7, "{one:?} {other:?}");
                        }
                        Err(why) => proptest::prop_assert!(
                            why == NoSuchAir::SameTwice,
                            "{one:?} {other:?} {why}"
                        ),
                    }
                }
            }
        }
    }

    #[test]
    fn what_no_air_has_together_is_refused() {
        let pressure = standard_pressure(Length::ZERO).unwrap();
        let two = |one, other| MoistAir::from_two(one, other, pressure);
        let t = Temperature::new;
        assert_eq!(
            two(
                P::DewPoint(t(60.0)),
                P::HumidityRatio(HumidityRatio::new(0.01))
            ),
            Err(NoSuchAir::SameTwice)
        );
        assert_eq!(
            two(P::WetBulb(t(60.0)), P::DewPoint(t(70.0))),
            Err(NoSuchAir::NoneHasBoth)
        );
        assert_eq!(
            two(
                P::RelativeHumidity(Humidity::new(0.0)),
                P::DewPoint(t(40.0))
            ),
            Err(NoSuchAir::NoneHasBoth)
        );
        let full = two(
            P::RelativeHumidity(Humidity::new(100.0)),
            P::WetBulb(t(60.0)),
        )
        .unwrap();
        assert!((full.dry_bulb().value() - 60.0).abs() < 1e-6);
    }
}
