//! `water-friction`: friction of water or propylene glycol in a straight pipe.

use super::air_friction::{ROUGHEST, inches};
use super::bench::Bench;
use super::column::Column;
use super::row::{Answers, Fault, Row};
use crate::physics::fluid::Fluid;
use crate::physics::pipe_flow::{head_pressure, pipe_flow};
use crate::physics::water::{CLOSED_LOOP, Water};
use crate::quantity::{Density, Length, Pressure, SpecificHeat, Temperature, Viscosity, WaterFlow};

pub(super) const BENCH: Bench = Bench {
    name: "water-friction",
    about: "friction in a straight pipe: fluid = water, or PG30 for 30 % propylene glycol by mass (to 60)",
    columns: &[
        Column::key("case"),
        Column::text("pipe"),
        Column::text("nominal_size_in"),
        Column::text("outside_diameter_in"),
        Column::input("inside_diameter_in", "in").within(0.001, 1000.0),
        Column::input("roughness_ft", "ft").within(0.0, 1.0),
        Column::choice("fluid"),
        Column::input("temperature_F", "F").within(-60.0, 350.0),
        Column::property("density_lb_per_ft3", "lb/ft3").within(1.0, 200.0),
        Column::property("viscosity_lb_per_ft_s", "lb/(ft s)").within(1e-6, 10.0),
        Column::property("specific_heat_Btu_per_lb_F", "Btu/(lb F)").within(0.01, 10.0),
        Column::input("flow_gpm", "gpm").within(0.0, 1e6),
        Column::result("velocity_ft_per_s", "ft/s"),
        Column::result("reynolds", ""),
        Column::result("regime", ""),
        Column::result("darcy_f", ""),
        Column::result("head_loss_ft_per_100ft", "ft"),
        Column::result("pressure_loss_psi_per_100ft", "psi"),
    ],
    work,
};

/// The liquid's properties: those that the row gives, the others computed.
pub(super) fn liquid(
    row: &Row,
    fluid: Fluid,
    temperature: &str,
    pressure: Pressure,
    heat: Option<&str>,
) -> Result<Water, Fault> {
    let given = (
        row.number("density_lb_per_ft3")?,
        row.number("viscosity_lb_per_ft_s")?,
        match heat {
            Some(column) => row.number(column)?,
            None => Some(1.0),
        },
    );
    let degrees = Temperature::new(row.needed(temperature)?);
    let computed = match given {
        (Some(density), Some(viscosity), Some(heat)) => Some(Water {
            density: Density::new(density),
            viscosity: Viscosity::new(viscosity),
            specific_heat: SpecificHeat::new(heat),
        }),
        _ => fluid.at(degrees, pressure),
    };
    let computed = computed.ok_or_else(|| {
        Fault::new(format!(
            "`{temperature}` is {}, where the fluid freezes or boils",
            degrees.value()
        ))
    })?;
    Ok(Water {
        density: given.0.map_or(computed.density, Density::new),
        viscosity: given.1.map_or(computed.viscosity, Viscosity::new),
        specific_heat: given.2.map_or(computed.specific_heat, SpecificHeat::new),
    })
}

fn work(row: &Row) -> Result<Answers, Fault> {
    let name = row.needed_word("fluid")?;
    let fluid = Fluid::read(name)
        .ok_or_else(|| Fault::new(format!("`fluid` is `{name}`, not water or PG1 to PG60")))?;
    let heat = "specific_heat_Btu_per_lb_F";
    let liquid = liquid(row, fluid, "temperature_F", CLOSED_LOOP, Some(heat))?;
    let inside = inches(row, "inside_diameter_in")?;
    let roughness = Length::nearest(row.needed("roughness_ft")? * 12.0);
    if roughness.to_feet() > ROUGHEST * inside.to_feet() {
        return Err(Fault::new("`roughness_ft` is more than half the pipe"));
    }
    let found = pipe_flow(
        inside,
        roughness,
        &liquid,
        WaterFlow::new(row.needed("flow_gpm")?),
    )
    .ok_or_else(|| Fault::new("the pipe has no bore"))?;
    let lost = found.friction(Length::feet(100));
    let answers = Answers::default()
        .number("density_lb_per_ft3", liquid.density.value())
        .number("viscosity_lb_per_ft_s", liquid.viscosity.value())
        .number(heat, liquid.specific_heat.value())
        .number("velocity_ft_per_s", found.velocity.value() / 60.0)
        .number("reynolds", found.reynolds)
        .words("regime", found.regime.to_string())
        .number("head_loss_ft_per_100ft", lost.value() / 12.0)
        .number(
            "pressure_loss_psi_per_100ft",
            head_pressure(lost, liquid.density).psi(),
        );
    Ok(match found.darcy {
        Some(factor) => answers.number("darcy_f", factor),
        None => answers,
    })
}
