//! `air-friction`: friction of air in a straight duct.

use super::bench::Bench;
use super::column::Column;
use super::psychrometrics::pressure_at;
use super::row::{Answers, Fault, Row};
use crate::physics::air::{DuctAir, dry_air, viscosity};
use crate::physics::duct::{Section, duct_friction};
use crate::quantity::{AirFlow, Density, Length, Temperature, Viscosity};

pub(super) const BENCH: Bench = Bench {
    name: "air-friction",
    about: "friction of air in straight duct: shape = round (diameter), rect or oval (width and height)",
    columns: &[
        Column::key("case"),
        Column::choice("shape"),
        Column::input("diameter_in", "in").within(0.01, 10_000.0),
        Column::input("width_in", "in").within(0.01, 10_000.0),
        Column::input("height_in", "in").within(0.01, 10_000.0),
        Column::text("roughness_class"),
        Column::input("roughness_ft", "ft").within(0.0, 10.0),
        Column::input("air_temp_F", "F").within(-148.0, 392.0),
        Column::input("altitude_ft", "ft").within(-16_000.0, 36_000.0),
        Column::property("density_lb_per_ft3", "lb/ft3").within(1e-4, 10.0),
        Column::property("viscosity_lb_per_ft_s", "lb/(ft s)").within(1e-7, 1e-2),
        Column::input("flow_cfm", "cfm").within(0.0, 1e9),
        Column::result("hydraulic_diameter_in", "in"),
        Column::result("velocity_fpm", "fpm"),
        Column::result("velocity_pressure_inwc", "inwc"),
        Column::result("reynolds", ""),
        Column::result("regime", ""),
        Column::result("darcy_f", ""),
        Column::result("friction_inwc_per_100ft", "inwc"),
    ],
    work,
};

/// An inch column as an exact length.
pub(super) fn inches(row: &Row, name: &str) -> Result<Length, Fault> {
    row.needed(name).map(Length::nearest)
}

/// Relative roughness above this is a slip of the decimal point: the equation's own range ends at 0.05.
pub(super) const ROUGHEST: f64 = 0.5;

fn section(row: &Row) -> Result<Section, Fault> {
    let of_two = |of: fn(Length, Length) -> Option<Section>| {
        Ok(of(inches(row, "width_in")?, inches(row, "height_in")?))
    };
    match row.needed_word("shape")? {
        "round" => Ok(Section::round(inches(row, "diameter_in")?)),
        "rect" => of_two(Section::rectangular),
        "oval" => of_two(Section::oval),
        other => Err(Fault::new(format!(
            "`shape` is `{other}`, not one of round, rect, oval"
        ))),
    }?
    .ok_or_else(|| Fault::new("the duct has no section"))
}

/// Air as the row gives it; what it leaves open is dry air at its temperature and altitude.
fn air(row: &Row) -> Result<DuctAir, Fault> {
    let (density, given) = (
        row.number("density_lb_per_ft3")?,
        row.number("viscosity_lb_per_ft_s")?,
    );
    if let (Some(density), Some(viscosity)) = (density, given) {
        return Ok(DuctAir {
            density: Density::new(density),
            viscosity: Viscosity::new(viscosity),
        });
    }
    let temperature = Temperature::new(row.needed("air_temp_F")?);
    let density = match density {
        Some(density) => Density::new(density),
        None => {
            dry_air(temperature, pressure_at(row.needed("altitude_ft")?)?)
                .ok_or_else(|| Fault::new("`air_temp_F` is outside the range of air"))?
                .density
        }
    };
    let viscosity = given.map_or_else(|| viscosity(temperature, density), Viscosity::new);
    Ok(DuctAir { density, viscosity })
}

fn work(row: &Row) -> Result<Answers, Fault> {
    let section = section(row)?;
    let air = air(row)?;
    let roughness = Length::nearest(row.needed("roughness_ft")? * 12.0);
    if roughness.to_feet() > ROUGHEST * section.hydraulic_diameter().value() / 12.0 {
        return Err(Fault::new("`roughness_ft` is more than half the duct"));
    }
    let found = duct_friction(
        &section,
        roughness,
        &air,
        AirFlow::new(row.needed("flow_cfm")?),
    );
    let answers = Answers::default()
        .number("density_lb_per_ft3", air.density.value())
        .number("viscosity_lb_per_ft_s", air.viscosity.value())
        .number(
            "hydraulic_diameter_in",
            section.hydraulic_diameter().value(),
        )
        .number("velocity_fpm", found.velocity.value())
        .number("velocity_pressure_inwc", found.velocity_pressure.value())
        .number("reynolds", found.reynolds)
        .words("regime", found.regime.to_string())
        .number("friction_inwc_per_100ft", found.per_100_ft.value());
    Ok(match found.darcy {
        Some(factor) => answers.number("darcy_f", factor),
        None => answers,
    })
}
