//! `psychrometrics`: a state of moist air from dry bulb, altitude and one more.

use super::bench::Bench;
use super::column::Column;
use super::row::{Answers, Fault, Row};
use crate::physics::psychrometrics::{MoistAir, standard_pressure};
use crate::quantity::{Humidity, HumidityRatio, Length, Pressure, Temperature};

pub(super) const BENCH: Bench = Bench {
    name: "psychrometrics",
    about: "moist air at an altitude from dry bulb and one more: given = rh, twb, tdp or w",
    columns: &[
        Column::key("case"),
        Column::choice("given"),
        Column::input("altitude_ft", "ft").within(-16_000.0, 36_000.0),
        Column::input("dry_bulb_F", "F").within(-148.0, 392.0),
        Column::result("rel_humidity_frac", "fraction")
            .within(0.0, 1.0)
            .given_when("given", "rh"),
        Column::result("wet_bulb_F", "F")
            .within(-148.0, 392.0)
            .given_when("given", "twb"),
        Column::result("dew_point_F", "F")
            .within(-148.0, 392.0)
            .given_when("given", "tdp"),
        Column::result("pressure_psia", "psi"),
        Column::result("humidity_ratio_lb_per_lb", "lb/lb")
            .within(0.0, 10.0)
            .given_when("given", "w"),
        Column::result("enthalpy_Btu_per_lb_da", "Btu/lb"),
        Column::result("specific_volume_ft3_per_lb_da", "ft3/lb"),
        Column::result("density_lb_per_ft3", "lb/ft3"),
    ],
    work,
};

/// Pressure of the standard atmosphere at an altitude in feet.
pub(super) fn pressure_at(feet: f64) -> Result<Pressure, Fault> {
    standard_pressure(Length::nearest(feet * 12.0))
        .ok_or_else(|| Fault::new("the altitude is outside the standard atmosphere"))
}

fn work(row: &Row) -> Result<Answers, Fault> {
    let pressure = pressure_at(row.needed("altitude_ft")?)?;
    let dry = Temperature::new(row.needed("dry_bulb_F")?);
    let given = row.needed_word("given")?;
    let air = match given {
        "rh" => {
            let share = row.needed("rel_humidity_frac")?;
            MoistAir::from_relative_humidity(dry, Humidity::new(share * 100.0), pressure)
        }
        "twb" => {
            MoistAir::from_wet_bulb(dry, Temperature::new(row.needed("wet_bulb_F")?), pressure)
        }
        "tdp" => {
            MoistAir::from_dew_point(dry, Temperature::new(row.needed("dew_point_F")?), pressure)
        }
        "w" => {
            let ratio = HumidityRatio::new(row.needed("humidity_ratio_lb_per_lb")?);
            MoistAir::from_humidity_ratio(dry, ratio, pressure)
        }
        other => {
            return Err(Fault::new(format!(
                "`given` is `{other}`, not one of rh, twb, tdp, w"
            )));
        }
    }
    .map_err(|why| Fault::new(why.to_string()))?;
    let answers = Answers::default()
        .number("rel_humidity_frac", air.relative_humidity().value() / 100.0)
        .number("wet_bulb_F", air.wet_bulb().value())
        .number("pressure_psia", pressure.psi())
        .number("humidity_ratio_lb_per_lb", air.humidity_ratio().value())
        .number("enthalpy_Btu_per_lb_da", air.enthalpy().value())
        .number(
            "specific_volume_ft3_per_lb_da",
            air.specific_volume().value(),
        )
        .number("density_lb_per_ft3", air.density().value());
    Ok(match air.dew_point() {
        Some(dew) => answers.number("dew_point_F", dew.value()),
        None => answers,
    })
}
