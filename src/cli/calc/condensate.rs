//! `condensate`: water and heat that a cooling coil takes out of air.

use super::bench::Bench;
use super::column::Column;
use super::psychrometrics::pressure_at;
use super::row::{Answers, Fault, Row};
use crate::physics::cooling_coil::{FlowBasis, coil_duty};
use crate::physics::psychrometrics::MoistAir;
use crate::quantity::{AirFlow, Humidity, Pressure, Temperature};

pub(super) const BENCH: Bench = Bench {
    name: "condensate",
    about: "cooling coil between two states of air (wet bulb or relative humidity): flow_basis = entering or standard",
    columns: &[
        Column::key("case"),
        Column::input("altitude_ft", "ft").within(-16_000.0, 36_000.0),
        Column::input("entering_dry_bulb_F", "F").within(-148.0, 392.0),
        Column::input("entering_wet_bulb_F", "F").within(-148.0, 392.0),
        Column::input("entering_rel_humidity_frac", "fraction").within(0.0, 1.0),
        Column::input("leaving_dry_bulb_F", "F").within(-148.0, 392.0),
        Column::input("leaving_wet_bulb_F", "F").within(-148.0, 392.0),
        Column::input("leaving_rel_humidity_frac", "fraction").within(0.0, 1.0),
        Column::input("flow_cfm", "cfm").within(0.0, 1e9),
        Column::choice("flow_basis"),
        Column::result("dry_air_lb_per_h", "lb/h"),
        Column::result("entering_humidity_ratio", "lb/lb"),
        Column::result("leaving_humidity_ratio", "lb/lb"),
        Column::result("moisture_lb_per_h", "lb/h"),
        Column::result("moisture_gal_per_h", "gal/h"),
        Column::result("sensible_Btu_per_h", "Btu/h"),
        Column::result("latent_Btu_per_h", "Btu/h"),
        Column::result("total_Btu_per_h", "Btu/h"),
        Column::result("condensate_enthalpy_Btu_per_h", "Btu/h"),
        Column::result("net_total_Btu_per_h", "Btu/h"),
    ],
    work,
};

fn air(row: &Row, side: &str, pressure: Pressure) -> Result<MoistAir, Fault> {
    let dry = Temperature::new(row.needed(&format!("{side}_dry_bulb_F"))?);
    let wet = row.number(&format!("{side}_wet_bulb_F"))?;
    let share = row.number(&format!("{side}_rel_humidity_frac"))?;
    match (wet, share) {
        (Some(wet), _) => MoistAir::from_wet_bulb(dry, Temperature::new(wet), pressure),
        (None, Some(share)) => {
            MoistAir::from_relative_humidity(dry, Humidity::new(share * 100.0), pressure)
        }
        (None, None) => {
            return Err(Fault::new(format!(
                "`{side}_wet_bulb_F` and `{side}_rel_humidity_frac` are both empty"
            )));
        }
    }
    .map_err(|why| Fault::new(format!("{side} air: {why}")))
}

fn work(row: &Row) -> Result<Answers, Fault> {
    let pressure = pressure_at(row.needed("altitude_ft")?)?;
    let entering = air(row, "entering", pressure)?;
    let leaving = air(row, "leaving", pressure)?;
    let basis = match row.needed_word("flow_basis")? {
        "entering" => FlowBasis::Entering,
        "standard" => FlowBasis::Standard,
        other => {
            return Err(Fault::new(format!(
                "`flow_basis` is `{other}`, not one of entering, standard"
            )));
        }
    };
    let flow = AirFlow::new(row.needed("flow_cfm")?);
    let duty = coil_duty(&entering, &leaving, flow, basis)
        .map_err(|why| Fault::new(format!("leaving air: {why}")))?;
    // A dry coil keeps its humidity ratio; ten digits of a wet bulb leave some dust there.
    let dust = |value: f64, scale: f64| {
        if value.abs() < 1e-8 * scale {
            0.0
        } else {
            value
        }
    };
    let air = duty.dry_air.value();
    Ok(Answers::default()
        .number("dry_air_lb_per_h", air)
        .number("entering_humidity_ratio", entering.humidity_ratio().value())
        .number("leaving_humidity_ratio", leaving.humidity_ratio().value())
        .number("moisture_lb_per_h", dust(duty.moisture.value(), air * 0.01))
        .number(
            "moisture_gal_per_h",
            dust(duty.condensate.value() * 60.0, air * 0.001),
        )
        .number("sensible_Btu_per_h", duty.sensible.value())
        .number("latent_Btu_per_h", dust(duty.latent.value(), air * 10.0))
        .number("total_Btu_per_h", duty.total.value())
        .number(
            "condensate_enthalpy_Btu_per_h",
            dust(duty.condensate_heat.value(), air),
        )
        .number("net_total_Btu_per_h", duty.net_total.value()))
}
