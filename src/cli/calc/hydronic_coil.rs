//! `hydronic-coil`: a hot-water coil at other water, air and flows than it is rated at.

use super::bench::Bench;
use super::column::Column;
use super::row::{Answers, Fault, Row};
use crate::physics::hot_water_coil::{
    CoilOutput, Form, HeatPerDegree, Scaling, Streams, coil_output, rated_conductance,
    scaled_conductance,
};
use crate::physics::water::{CLOSED_LOOP, Water};
use crate::quantity::{AirFlow, HeatFlow, Temperature, WaterFlow};

pub(super) const BENCH: Bench = Bench {
    name: "hydronic-coil",
    about: "hot-water coil away from its rating: ua_mode = rated, constant or scaled (with the flows)",
    columns: &[
        Column::key("case"),
        Column::text("coil"),
        Column::choice("ua_mode"),
        Column::input("rated_capacity_Btu_per_h", "Btu/h").within(1e-6, 1e12),
        Column::input("rated_entering_water_F", "F").within(32.0, 350.0),
        Column::input("rated_entering_air_F", "F").within(-100.0, 350.0),
        Column::input("rated_flow_cfm", "cfm").within(1e-6, 1e9),
        Column::input("rated_flow_gpm", "gpm").within(1e-6, 1e9),
        Column::input("air_share_of_resistance", "").within(0.0, 1.0),
        Column::input("air_exponent", "").within(0.0, 3.0),
        Column::input("water_exponent", "").within(0.0, 3.0),
        Column::input("entering_water_F", "F").within(32.0, 350.0),
        Column::input("entering_air_F", "F").within(-100.0, 350.0),
        Column::input("flow_cfm", "cfm").within(1e-6, 1e9),
        Column::input("flow_gpm", "gpm").within(1e-6, 1e9),
        Column::property("c_air_Btu_per_h_F", "Btu/(h F)").within(1e-6, 1e12),
        Column::property("c_water_Btu_per_h_F", "Btu/(h F)").within(1e-6, 1e12),
        Column::result("ua_exact_Btu_per_h_F", "Btu/(h F)"),
        Column::result("ntu_exact", ""),
        Column::result("capacity_ratio_Cr", ""),
        Column::result("effectiveness_exact", ""),
        Column::result("capacity_exact_Btu_per_h", "Btu/h"),
        Column::result("leaving_air_exact_F", "F"),
        Column::result("leaving_water_exact_F", "F"),
        Column::result("ua_approx_Btu_per_h_F", "Btu/(h F)"),
        Column::result("effectiveness_approx", ""),
        Column::result("capacity_approx_Btu_per_h", "Btu/h"),
    ],
    work,
};

/// Standard air, 0.075 lb/ft³ × 0.24 Btu/(lb·°F) × 60 min/h.
const AIR_RATE: f64 = 1.08;
/// Cubic feet per hour in one gallon per minute.
const FT3_H_PER_GPM: f64 = 231.0 / 1728.0 * 60.0;

struct Side {
    water: Temperature,
    air: Temperature,
    streams: Streams,
}

/// One side of the table: the rating (`rated_…`) or the case itself, with its own capacity rates.
fn side(row: &Row, prefix: &str, rates: (Option<f64>, Option<f64>)) -> Result<Side, Fault> {
    let of = |name: &str| row.needed(&format!("{prefix}{name}"));
    let water = Temperature::new(of("entering_water_F")?);
    let (cfm, gpm) = (of("flow_cfm")?, of("flow_gpm")?);
    let water_rate = if let Some(rate) = rates.1 {
        rate
    } else {
        let liquid = Water::at(water, CLOSED_LOOP).ok_or_else(|| {
            Fault::new(format!(
                "`{prefix}entering_water_F` is {}, which is not liquid at 40 psia",
                water.value()
            ))
        })?;
        gpm * FT3_H_PER_GPM * liquid.density.value() * liquid.specific_heat.value()
    };
    Ok(Side {
        water,
        air: Temperature::new(of("entering_air_F")?),
        streams: Streams {
            air: AirFlow::new(cfm),
            water: WaterFlow::new(gpm),
            air_rate: HeatPerDegree::new(rates.0.unwrap_or(AIR_RATE * cfm)),
            water_rate: HeatPerDegree::new(water_rate),
        },
    })
}

fn output(row: &Row, form: Form, rated: &Side, now: &Side) -> Result<(f64, CoilOutput), Fault> {
    let capacity = HeatFlow::new(row.needed("rated_capacity_Btu_per_h")?);
    let fitted = rated_conductance(form, capacity, rated.water, rated.air, &rated.streams)
        .ok_or_else(|| {
            Fault::new(
                "`rated_capacity_Btu_per_h` is more than the rated flows and temperatures can give",
            )
        })?;
    let conductance = match row.needed_word("ua_mode")? {
        "rated" | "constant" => fitted,
        "scaled" => {
            let scaling = Scaling {
                air_share: row.needed("air_share_of_resistance")?,
                air_exponent: row.needed("air_exponent")?,
                water_exponent: row.needed("water_exponent")?,
            };
            scaled_conductance(fitted, &scaling, &rated.streams, &now.streams)
        }
        other => {
            return Err(Fault::new(format!(
                "`ua_mode` is `{other}`, not one of rated, constant, scaled"
            )));
        }
    };
    Ok((
        conductance.value(),
        coil_output(form, conductance, now.water, now.air, &now.streams),
    ))
}

fn work(row: &Row) -> Result<Answers, Fault> {
    let rated = side(row, "rated_", (None, None))?;
    let given = (
        row.number("c_air_Btu_per_h_F")?,
        row.number("c_water_Btu_per_h_F")?,
    );
    let now = side(row, "", given)?;
    let (ua, exact) = output(row, Form::Exact, &rated, &now)?;
    let (ua_approx, approx) = output(row, Form::Approximate, &rated, &now)?;
    Ok(Answers::default()
        .number("c_air_Btu_per_h_F", now.streams.air_rate.value())
        .number("c_water_Btu_per_h_F", now.streams.water_rate.value())
        .number("ua_exact_Btu_per_h_F", ua)
        .number("ntu_exact", exact.units)
        .number("capacity_ratio_Cr", now.streams.ratio())
        .number("effectiveness_exact", exact.effectiveness)
        .number("capacity_exact_Btu_per_h", exact.capacity.value())
        .number("leaving_air_exact_F", exact.leaving_air.value())
        .number("leaving_water_exact_F", exact.leaving_water.value())
        .number("ua_approx_Btu_per_h_F", ua_approx)
        .number("effectiveness_approx", approx.effectiveness)
        .number("capacity_approx_Btu_per_h", approx.capacity.value()))
}
