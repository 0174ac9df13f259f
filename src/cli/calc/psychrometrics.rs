//! `psychrometrics`: a state of moist air from dry bulb, altitude and one more.

use super::bench::Bench;
use super::column::Column;
use super::row::{Answers, Fault, Row};
use crate::physics::psychrometrics::{MoistAir, Property, standard_pressure};
use crate::quantity::{
    Enthalpy, Humidity, HumidityRatio, Length, Pressure, SpecificVolume, Temperature,
};

pub(super) const BENCH: Bench = Bench {
    name: "psychrometrics",
    about: "moist air at an altitude: given = rh, twb, tdp, w, h or v beside the dry bulb, or two joined (rh+twb)",
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
        Column::result("enthalpy_Btu_per_lb_da", "Btu/lb").given_when("given", "h"),
        Column::result("specific_volume_ft3_per_lb_da", "ft3/lb")
            .within(1e-3, 1e4)
            .given_when("given", "v"),
        Column::result("density_lb_per_ft3", "lb/ft3"),
    ],
    work,
};

/// Pressure of the standard atmosphere at an altitude in feet.
pub(super) fn pressure_at(feet: f64) -> Result<Pressure, Fault> {
    standard_pressure(Length::nearest(feet * 12.0))
        .ok_or_else(|| Fault::new("the altitude is outside the standard atmosphere"))
}

/// The property that a word of `given` names.
fn property(row: &Row, word: &str) -> Result<Property, Fault> {
    Ok(match word {
        "tdb" => Property::DryBulb(Temperature::new(row.needed("dry_bulb_F")?)),
        "rh" => {
            let share = row.needed("rel_humidity_frac")?;
            Property::RelativeHumidity(Humidity::new(share * 100.0))
        }
        "twb" => Property::WetBulb(Temperature::new(row.needed("wet_bulb_F")?)),
        "tdp" => Property::DewPoint(Temperature::new(row.needed("dew_point_F")?)),
        "w" => {
            let ratio = row.needed("humidity_ratio_lb_per_lb")?;
            Property::HumidityRatio(HumidityRatio::new(ratio))
        }
        "h" => Property::Enthalpy(Enthalpy::new(row.needed("enthalpy_Btu_per_lb_da")?)),
        "v" => {
            let volume = row.needed("specific_volume_ft3_per_lb_da")?;
            Property::SpecificVolume(SpecificVolume::new(volume))
        }
        other => {
            return Err(Fault::new(format!(
                "`given` is `{other}`, not one of tdb, rh, twb, tdp, w, h, v, or two of them joined by +"
            )));
        }
    })
}

fn work(row: &Row) -> Result<Answers, Fault> {
    let pressure = pressure_at(row.needed("altitude_ft")?)?;
    let given = row.needed_word("given")?;
    let (one, other) = given.split_once('+').unwrap_or(("tdb", given));
    let (one, other) = (property(row, one.trim())?, property(row, other.trim())?);
    let air =
        MoistAir::from_two(one, other, pressure).map_err(|why| Fault::new(why.to_string()))?;
    let answers = Answers::default()
        .number("rel_humidity_frac", air.relative_humidity().value() / 100.0)
        .number("dry_bulb_F", air.dry_bulb().value())
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
