//! Air behind a coil by the balance of heat and water, and the surface that would do the same by contact.
//!
//! Source: ASHRAE Handbook—Fundamentals, Psychrometrics (balance) and ASHRAE Handbook—HVAC Systems and
//! Equipment, Air-Cooling and Dehumidifying Coils (bypass factor and apparatus dew point).

use super::super::psychrometrics::{MoistAir, NoSuchAir};
use super::super::root::cross;
use crate::quantity::{HeatFlow, Humidity, HumidityRatio, MassFlow, Temperature};

/// Air behind a coil that takes `total` heat, `sensible` of it, from `dry_air`: W₂ from the latent part,
/// m (W₁ − W₂)(1061 + 0.444 t₁); then t₂ from the sensible part, m (0.240 + 0.444 W₂)(t₁ − t₂).
///
/// The same split as in [`super::super::cooling_coil::coil_duty`].
pub fn leaving_air(
    entering: &MoistAir,
    dry_air: MassFlow,
    total: HeatFlow,
    sensible: HeatFlow,
) -> Result<MoistAir, NoSuchAir> {
    let (t, m) = (entering.dry_bulb().value(), dry_air.value());
    let latent = (total - sensible).value();
    let ratio = entering.humidity_ratio().value() - latent / (m * (1061.0 + 0.444 * t));
    let leaving = t - sensible.value() / (m * (0.240 + 0.444 * ratio));
    MoistAir::from_humidity_ratio(
        Temperature::new(leaving),
        HumidityRatio::new(ratio),
        entering.pressure(),
    )
}

/// Saturated air at a temperature and the pressure of `like`.
pub(super) fn saturated(like: &MoistAir, temperature: f64) -> Result<MoistAir, NoSuchAir> {
    MoistAir::from_relative_humidity(
        Temperature::new(temperature),
        Humidity::new(100.0),
        like.pressure(),
    )
}

/// Saturated air of an enthalpy, between −60 °F and the dry bulb of `like`; refused below.
pub(super) fn saturated_at_enthalpy(like: &MoistAir, enthalpy: f64) -> Result<MoistAir, NoSuchAir> {
    if saturated(like, COLDEST)?.enthalpy().value() > enthalpy {
        return Err(NoSuchAir::Temperature);
    }
    // Where saturated air can't be, the search goes on below.
    let t = cross(COLDEST, like.dry_bulb().value(), 1e-10, |t| {
        saturated(like, t).map_or(f64::NEG_INFINITY, |air| air.enthalpy().value() - enthalpy)
    });
    saturated(like, t)
}

/// Coldest surface that is looked for, °F.
pub(super) const COLDEST: f64 = -60.0;
/// Step of the search along the coil's line, °F.
const STEP: f64 = 0.5;

/// A coil's surface as air meets it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Apparatus {
    /// Temperature of the surface: where the line from entering to leaving air meets saturation.
    pub dew_point: Temperature,
    /// Share of the air that passes as if it had not met the coil.
    pub bypass: f64,
}

/// Where the line from entering to leaving air, carried on, first meets saturation; none when it does not.
///
/// Bypass factor (t₂ − t₃)/(t₁ − t₃), with t₃ at the surface.
pub fn apparatus(entering: &MoistAir, leaving: &MoistAir) -> Option<Apparatus> {
    let (t1, t2) = (entering.dry_bulb().value(), leaving.dry_bulb().value());
    let (w1, w2) = (
        entering.humidity_ratio().value(),
        leaving.humidity_ratio().value(),
    );
    if t1 - t2 < 1e-9 || w1 < w2 {
        return None;
    }
    let slope = (w1 - w2) / (t1 - t2);
    // How far saturation lies above the line; endless where there is no saturated air.
    let over = |t: f64| {
        saturated(entering, t).map_or(f64::INFINITY, |air| {
            air.humidity_ratio().value() - (w2 - slope * (t2 - t))
        })
    };
    let mut low = t2;
    while over(low) > 0.0 {
        low -= STEP;
        if low < COLDEST {
            return None;
        }
    }
    let t3 = if low < t2 {
        cross(low, (low + STEP).min(t2), 1e-10, over)
    } else {
        t2
    };
    Some(Apparatus {
        dew_point: Temperature::new(t3),
        bypass: (t2 - t3) / (t1 - t3),
    })
}

#[cfg(test)]
mod tests {
    use super::super::super::cooling_coil::{FlowBasis, coil_duty};
    use super::super::super::psychrometrics::standard_pressure;
    use super::*;
    use crate::quantity::{AirFlow, Length};

    fn air(dry: f64, wet: f64) -> MoistAir {
        MoistAir::from_wet_bulb(
            Temperature::new(dry),
            Temperature::new(wet),
            standard_pressure(Length::ZERO).unwrap(),
        )
        .unwrap()
    }

    /// The textbook coil of 80/67 °F air leaving at 58/56.5 °F: its surface lies near 54 °F.
    /// From memory of a published psychrometric example; read off a chart, so half a degree wide.
    #[test]
    fn a_textbook_coil_has_the_textbook_surface() {
        let (entering, leaving) = (air(80.0, 67.0), air(58.0, 56.5));
        let found = apparatus(&entering, &leaving).unwrap();
        assert!((found.dew_point.value() - 54.6).abs() < 0.6, "{found:?}");
        assert!((0.05..0.2).contains(&found.bypass), "{found:?}");
    }

    /// By the definition: a mix of entering air and air saturated at the surface is the leaving air.
    #[test]
    fn leaving_air_is_a_mix_of_what_passes_and_what_is_saturated() {
        for (dry, wet, surface, bypass) in [
            (80.0, 67.0, 50.0, 0.1),
            (75.0, 62.5, 40.0, 0.15),
            (75.0, 62.5, 33.0, 0.05),
            (72.0, 60.0, 28.0, 0.2),
        ] {
            let entering = air(dry, wet);
            let at = saturated(&entering, surface).unwrap();
            let mix = |a: f64, b: f64| bypass * a + (1.0 - bypass) * b;
            let leaving = MoistAir::from_humidity_ratio(
                Temperature::new(mix(dry, surface)),
                HumidityRatio::new(mix(
                    entering.humidity_ratio().value(),
                    at.humidity_ratio().value(),
                )),
                entering.pressure(),
            )
            .unwrap();
            let found = apparatus(&entering, &leaving).unwrap();
            assert!(
                (found.dew_point.value() - surface).abs() < 1e-6,
                "{found:?}"
            );
            assert!((found.bypass - bypass).abs() < 1e-8, "{found:?}");
        }
    }

    /// So much water and so little cooling that no surface does it.
    #[test]
    fn a_line_past_saturation_has_no_surface() {
        let entering = air(80.0, 75.0);
        let leaving = MoistAir::from_humidity_ratio(
            Temperature::new(76.0),
            HumidityRatio::new(0.010),
            entering.pressure(),
        )
        .unwrap();
        assert_eq!(apparatus(&entering, &leaving), None);
        assert_eq!(apparatus(&entering, &entering), None);
    }

    proptest::proptest! {
        /// Heat and water of the balance are those that `coil_duty` finds between the two states.
        #[test]
        fn the_balance_closes(
            dry in 65.0..95.0_f64, percent in 20.0..80.0_f64, feet in 0..9000_i64,
            leaves in 40.0..60.0_f64, share in 0.3..1.0_f64, cfm in 200.0..2000.0_f64,
        ) {
            let pressure = standard_pressure(Length::feet(feet)).unwrap();
            let entering = MoistAir::from_relative_humidity(
                Temperature::new(dry), Humidity::new(percent), pressure,
            ).unwrap();
            let ratio = entering.humidity_ratio().value() * share;
            let Ok(leaving) = MoistAir::from_humidity_ratio(
                Temperature::new(leaves), HumidityRatio::new(ratio), pressure,
            ) else { return Ok(()) };
            let duty = coil_duty(&entering, &leaving, AirFlow::new(cfm), FlowBasis::Entering).unwrap();
            let back = leaving_air(&entering, duty.dry_air, duty.total, duty.sensible).unwrap();
            proptest::prop_assert!((back.dry_bulb().value() - leaves).abs() < 1e-8);
            proptest::prop_assert!((back.humidity_ratio().value() - ratio).abs() < 1e-11);
        }
    }

    /// Every row of the published-form table of condensate: heat in, leaving state out.
    #[test]
    fn the_condensate_table_comes_back() {
        let text = include_str!("../../../tests/reference/condensate.csv");
        let mut reader = csv::ReaderBuilder::new()
            .comment(Some(b'#'))
            .from_reader(text.as_bytes());
        let header = reader.headers().unwrap().clone();
        let mut rows = 0;
        for record in reader.records().map(Result::unwrap) {
            let cell = |name: &str| {
                let at = header.iter().position(|h| h == name).unwrap();
                record.get(at).unwrap().parse::<f64>().ok()
            };
            let state = |side: &str| {
                #[expect(
                    clippy::cast_possible_truncation,
                    reason = "altitudes of the table are whole feet"
                )]
                let feet = cell("altitude_ft").unwrap() as i64;
                let pressure = standard_pressure(Length::feet(feet)).unwrap();
                let dry = Temperature::new(cell(&format!("{side}_dry_bulb_F")).unwrap());
                match cell(&format!("{side}_wet_bulb_F")) {
                    Some(wet) => MoistAir::from_wet_bulb(dry, Temperature::new(wet), pressure),
                    None => MoistAir::from_relative_humidity(
                        dry,
                        Humidity::new(100.0 * cell(&format!("{side}_rel_humidity_frac")).unwrap()),
                        pressure,
                    ),
                }
                .unwrap()
            };
            let heat = |name: &str| HeatFlow::new(cell(name).unwrap());
            let found = leaving_air(
                &state("entering"),
                MassFlow::new(cell("dry_air_lb_per_h").unwrap()),
                heat("total_Btu_per_h"),
                heat("sensible_Btu_per_h"),
            );
            // Some rows leave saturated, within the table's digits.
            let Ok(found) = found else { continue };
            let want = state("leaving");
            let off = found.dry_bulb().value() - want.dry_bulb().value();
            assert!(off.abs() < 0.02, "{record:?} {off}");
            let off = found.humidity_ratio().value() / want.humidity_ratio().value() - 1.0;
            assert!(off.abs() < 2e-3, "{record:?} {off}");
            rows += 1;
        }
        assert!(rows >= 20, "{rows}");
    }
}
