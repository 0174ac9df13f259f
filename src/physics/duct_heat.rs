//! Heat that air in a round duct or tube gains or loses on its way through a space of one temperature.
//!
//! t(L) = tₐ + (t₀ − tₐ) e^(−L/(R′ m cp)), with R′ the resistance of one foot: film inside, insulation as a hollow
//! cylinder, film outside. Sources: ASHRAE Handbook—Fundamentals, Heat Transfer (cylinder; turbulent film by
//! Dittus and Boelter, Nu = 0.023 Re^0.8 Pr^0.4 above Re 10,000, 3.66 below Re 2,300, linear between) and Heat, Air,
//! and Moisture Control (still air at a surface that is no metal foil, 1.46 Btu/(h·ft²·°F); from memory).

use super::air::DuctAir;
use crate::quantity::{AirFlow, HeatFlow, Length, MassFlow, RValue, Temperature};

/// Film of still air at the outside, Btu/(h·ft²·°F).
const OUTSIDE_FILM: f64 = 1.46;
/// Conductivity of air, Btu/(h·ft·°F), and its Prandtl number, near 70 °F.
/// Source: ASHRAE Handbook—Fundamentals, thermophysical properties; from memory, 1 % from 40 to 130 °F.
const AIR_CONDUCTIVITY: f64 = 0.0149;
const PRANDTL: f64 = 0.71;
/// Conductivity of glass-fibre duct wrap as installed, Btu·in/(h·ft²·°F), where only its resistance is stated.
/// Source: ASHRAE Handbook—Fundamentals; from memory.
const WRAP: f64 = 0.27;

/// A round duct with its insulation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InsulatedDuct {
    /// Inside diameter.
    pub inside: Length,
    /// Diameter over the insulation; none where only the resistance is known.
    pub outside: Option<Length>,
    /// Resistance of the insulation as it is sold, flat.
    pub insulation: RValue,
}

/// What air in a duct carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DuctStream {
    /// Its flow at `air`.
    pub flow: AirFlow,
    /// Density and viscosity.
    pub air: DuctAir,
    /// Dry air.
    pub dry_air: MassFlow,
    /// Heat that warms one pound of dry air, and its moisture, by one degree: 0.240 + 0.444 W, Btu/(lb·°F).
    pub heat_per_pound: f64,
}

impl InsulatedDuct {
    /// Over the insulation, ft; by the conductivity of usual wrap where no diameter is known.
    fn outside_feet(&self) -> f64 {
        let inside = self.inside.to_feet();
        match self.outside {
            Some(outside) => outside.to_feet().max(inside),
            None => inside + 2.0 * self.insulation.value().max(0.0) * WRAP / 12.0,
        }
    }

    /// Resistance of one foot of it, h·ft·°F/Btu; none where it has no diameter.
    pub fn resistance_per_foot(&self, stream: &DuctStream) -> Option<f64> {
        let pi = std::f64::consts::PI;
        let (inside, outside) = (self.inside.to_feet(), self.outside_feet());
        if inside <= 0.0 {
            return None;
        }
        let jacket = if outside > inside && self.insulation.value() > 0.0 {
            // A flat piece of this thickness has the stated resistance: its conductivity follows.
            let conductivity = f64::midpoint(outside, -inside) / self.insulation.value();
            libm::log(outside / inside) / (2.0 * pi * conductivity)
        } else {
            self.insulation.value().max(0.0) / (pi * inside)
        };
        let within = inside_film(inside, stream);
        Some(1.0 / (within * pi * inside) + jacket + 1.0 / (OUTSIDE_FILM * pi * outside))
    }
}

/// Film inside, Btu/(h·ft²·°F).
fn inside_film(diameter: f64, stream: &DuctStream) -> f64 {
    let area = std::f64::consts::FRAC_PI_4 * diameter * diameter;
    let speed = stream.flow.value().abs() / 60.0 / area;
    let reynolds = stream.air.density.value() * speed * diameter / stream.air.viscosity.value();
    let turbulent = |re: f64| 0.023 * libm::pow(re, 0.8) * libm::pow(PRANDTL, 0.4);
    let nusselt = if reynolds >= 10_000.0 {
        turbulent(reynolds)
    } else if reynolds <= 2_300.0 {
        3.66
    } else {
        let share = (reynolds - 2_300.0) / 7_700.0;
        3.66 + share * (turbulent(10_000.0) - 3.66)
    };
    nusselt * AIR_CONDUCTIVITY / diameter
}

/// Air at the end of a duct.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DuctEnd {
    /// Its temperature.
    pub leaving: Temperature,
    /// Heat gained on the way; below zero when lost.
    pub gain: HeatFlow,
}

/// Air that enters at `entering` and goes `length` through a space at `around`; none without flow or diameter.
pub fn along_duct(
    duct: &InsulatedDuct,
    length: Length,
    around: Temperature,
    entering: Temperature,
    stream: &DuctStream,
) -> Option<DuctEnd> {
    let rate = stream.dry_air.value() * stream.heat_per_pound;
    if rate <= 0.0 || length < Length::ZERO {
        return None;
    }
    let resistance = duct.resistance_per_foot(stream)?;
    let units = length.to_feet() / (resistance * rate);
    let (t0, ambient) = (entering.value(), around.value());
    let rise = -libm::expm1(-units) * (ambient - t0);
    Some(DuctEnd {
        leaving: Temperature::new(t0 + rise),
        gain: HeatFlow::new(rate * rise),
    })
}

#[cfg(test)]
mod tests {
    use super::super::air::dry_air;
    use super::super::psychrometrics::standard_pressure;
    use super::*;

    fn stream(cfm: f64) -> DuctStream {
        let air = dry_air(
            Temperature::new(55.0),
            standard_pressure(Length::ZERO).unwrap(),
        )
        .unwrap();
        DuctStream {
            flow: AirFlow::new(cfm),
            air,
            dry_air: MassFlow::new(cfm * 60.0 * air.density.value()),
            heat_per_pound: 0.244,
        }
    }

    fn tube() -> InsulatedDuct {
        InsulatedDuct {
            inside: Length::inches(2),
            outside: Some(Length::sixteenths(58)),
            insulation: RValue::new(6.0),
        }
    }

    /// Insulation too thin to change the diameter is a flat piece rolled up: R over the girth of a foot.
    #[test]
    fn thin_insulation_is_a_flat_piece_rolled_up() {
        let duct = |r| InsulatedDuct {
            outside: Some(Length::inches(2)),
            insulation: RValue::new(r),
            ..tube()
        };
        let of = |r| duct(r).resistance_per_foot(&stream(30.0)).unwrap();
        let girth = std::f64::consts::PI * 2.0 / 12.0;
        assert!((of(6.0) - of(0.0) - 6.0 / girth).abs() < 1e-9);
        let bare = InsulatedDuct {
            inside: Length::ZERO,
            ..tube()
        };
        assert_eq!(bare.resistance_per_foot(&stream(30.0)), None);
    }

    /// Laminar flow in a tube at constant wall temperature has a Nusselt number of 3.66; Dittus and Boelter's at Re
    /// 10,000 and Pr 0.71 is 0.023 × 1584.9 × 0.872 = 31.8; halfway between the two lies 17.7.
    #[test]
    fn the_film_goes_from_laminar_to_turbulent_without_a_step() {
        let diameter = 2.0 / 12.0;
        let air = stream(1.0).air;
        let nusselt = |reynolds: f64| {
            let speed = reynolds * air.viscosity.value() / air.density.value() / diameter;
            let area = std::f64::consts::PI * diameter * diameter / 4.0;
            inside_film(diameter, &stream(speed * area * 60.0)) * diameter / AIR_CONDUCTIVITY
        };
        for (reynolds, wanted) in [
            (500.0, 3.66),
            (2_299.0, 3.66),
            (2_301.0, 3.66),
            (6_150.0, 17.7),
            (9_999.0, 31.8),
            (10_001.0, 31.8),
            (20_000.0, 31.8 * libm::pow(2.0, 0.8)),
        ] {
            let found = nusselt(reynolds);
            assert!(
                (found - wanted).abs() < 0.005 * wanted,
                "{reynolds}: {found}"
            );
        }
    }

    /// dt/dx = (tₐ − t)/(R′ m cp) walked through with the fourth-order Runge–Kutta rule.
    #[test]
    fn the_exponential_is_the_integral_of_the_heat_balance() {
        for (cfm, feet, around, entering) in [
            (35.0, 20, 128.0, 50.0),
            (20.0, 60, 18.0, 120.0),
            (400.0, 30, 125.0, 48.0),
            (5.0, 100, 130.0, 45.0),
        ] {
            let (duct, stream) = (tube(), stream(cfm));
            let resistance = duct.resistance_per_foot(&stream).unwrap();
            let rate = stream.dry_air.value() * stream.heat_per_pound;
            let slope = |t: f64| (around - t) / (resistance * rate);
            let (mut t, steps) = (entering, 2000);
            let h = feet as f64 / f64::from(steps);
            for _ in 0..steps {
                let k1 = slope(t);
                let k2 = slope(t + 0.5 * h * k1);
                let k3 = slope(t + 0.5 * h * k2);
                let k4 = slope(t + h * k3);
                t += h / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4);
            }
            let end = along_duct(
                &duct,
                Length::feet(feet),
                Temperature::new(around),
                Temperature::new(entering),
                &stream,
            )
            .unwrap();
            assert!((end.leaving.value() - t).abs() < 1e-8, "{end:?} {t}");
            assert!((end.gain.value() - rate * (t - entering)).abs() < 1e-5);
        }
    }

    /// A hollow cylinder lies between a flat piece on the inside and one on the outside of it; and a thin wall
    /// is a flat one.
    #[test]
    fn the_cylinder_lies_between_its_two_flats() {
        let pi = std::f64::consts::PI;
        let stream = stream(35.0);
        let (duct, bare) = (
            tube(),
            InsulatedDuct {
                outside: None,
                insulation: RValue::new(0.0),
                ..tube()
            },
        );
        let films = |duct: &InsulatedDuct| {
            1.0 / (inside_film(duct.inside.to_feet(), &stream) * pi * duct.inside.to_feet())
                + 1.0 / (OUTSIDE_FILM * pi * duct.outside_feet())
        };
        let jacket = duct.resistance_per_foot(&stream).unwrap() - films(&duct);
        let (on_inside, on_outside) = (
            6.0 / (pi * duct.inside.to_feet()),
            6.0 / (pi * duct.outside_feet()),
        );
        assert!(
            on_outside < jacket && jacket < on_inside,
            "{on_outside} {jacket} {on_inside}"
        );
        assert!((bare.resistance_per_foot(&stream).unwrap() - films(&bare)).abs() < 1e-12);
        let thin = InsulatedDuct {
            inside: Length::inches(100),
            outside: Some(Length::inches(101)),
            insulation: RValue::new(2.0),
        };
        let jacket = thin.resistance_per_foot(&stream).unwrap() - films(&thin);
        assert!((jacket / (2.0 / (pi * 100.5 / 12.0)) - 1.0).abs() < 1e-4);
    }

    /// By hand: 35 cfm at 50 °F through 20 ft of bare 2 in tube at 128 °F. Re about 27,000, Nu 70, inside film 6.3;
    /// one foot has 1/(6.3 × 0.524) + 1/(1.46 × 0.524) = 0.30 + 1.31; 20 ft ÷ (1.61 × 39.5) = 0.31 units.
    #[test]
    fn a_bare_tube_agrees_with_a_hand_calculation() {
        let bare = InsulatedDuct {
            outside: None,
            insulation: RValue::new(0.0),
            ..tube()
        };
        let end = along_duct(
            &bare,
            Length::feet(20),
            Temperature::new(128.0),
            Temperature::new(50.0),
            &stream(35.0),
        )
        .unwrap();
        let by_hand = 50.0 + 78.0 * (1.0 - libm::exp(-0.31));
        assert!(
            (end.leaving.value() - by_hand).abs() < 0.8,
            "{end:?} {by_hand}"
        );
    }

    #[test]
    fn no_flow_has_no_end() {
        let at = |cfm, feet| {
            along_duct(
                &tube(),
                Length::feet(feet),
                Temperature::new(128.0),
                Temperature::new(50.0),
                &stream(cfm),
            )
        };
        assert_eq!(at(0.0, 20), None);
        let none = at(35.0, 0).unwrap();
        assert_eq!((none.leaving.value(), none.gain.value()), (50.0, 0.0));
        let nothing = InsulatedDuct {
            inside: Length::ZERO,
            ..tube()
        };
        assert_eq!(nothing.resistance_per_foot(&stream(35.0)), None);
    }

    proptest::proptest! {
        /// Two pieces one after the other are one piece; air never passes the temperature around it.
        #[test]
        fn pieces_add_up(cfm in 1.0..500.0_f64, a in 1..100_i64, b in 1..100_i64, r in 0.0..12.0_f64, around in -10.0..150.0_f64) {
            let duct = InsulatedDuct { insulation: RValue::new(r), ..tube() };
            let stream = stream(cfm);
            let go = |feet, from| along_duct(&duct, Length::feet(feet), Temperature::new(around), from, &stream).unwrap();
            let start = Temperature::new(50.0);
            let first = go(a, start);
            let second = go(b, first.leaving);
            let whole = go(a + b, start);
            proptest::prop_assert!((second.leaving.value() - whole.leaving.value()).abs() < 1e-9);
            proptest::prop_assert!(((first.gain + second.gain).value() - whole.gain.value()).abs() < 1e-6);
            let (low, high) = if around < 50.0 { (around, 50.0) } else { (50.0, around) };
            proptest::prop_assert!(low <= whole.leaving.value() && whole.leaving.value() <= high);
        }
    }
}
