//! `pump-head`: what a condensate pump lifts against, in height of water.

use super::air_friction::inches;
use super::bench::Bench;
use super::column::Column;
use super::row::{Answers, Fault, Row};
use super::water_friction::liquid;
use crate::physics::fluid::Fluid;
use crate::physics::pipe_flow::{head_pressure, pipe_flow};
use crate::physics::water::ATMOSPHERE;
use crate::quantity::{Head, Length, WaterFlow};

pub(super) const BENCH: Bench = Bench {
    name: "pump-head",
    about: "condensate pump: lift (below zero for a fall), friction of smooth plastic tube and fittings",
    columns: &[
        Column::key("case"),
        Column::input("vertical_lift_ft", "ft").within(-1000.0, 1000.0),
        Column::input("tube_length_ft", "ft").within(0.0, 10_000.0),
        Column::input("flow_gph", "gph").within(0.0, 1e6),
        Column::input("inside_diameter_in", "in").within(0.001, 100.0),
        Column::input("minor_K", "").within(0.0, 1e6),
        Column::input("water_F", "F").within(32.0, 211.0),
        Column::property("density_lb_per_ft3", "lb/ft3").within(1.0, 200.0),
        Column::property("viscosity_lb_per_ft_s", "lb/(ft s)").within(1e-6, 10.0),
        Column::result("velocity_ft_per_s", "ft/s"),
        Column::result("reynolds", ""),
        Column::result("regime", ""),
        Column::result("darcy_f", ""),
        Column::result("friction_head_ft", "ft"),
        Column::result("minor_head_ft", "ft"),
        Column::result("total_head_ft", "ft"),
        Column::result("total_pressure_psi", "psi"),
    ],
    work,
};

/// Smooth plastic and drawn tube, 5×10⁻⁶ ft: the usual handbook figure, from memory.
const SMOOTH: f64 = 5e-6;

fn work(row: &Row) -> Result<Answers, Fault> {
    let liquid = liquid(row, Fluid::Water, "water_F", ATMOSPHERE, None)?;
    let lift = row.needed("vertical_lift_ft")?;
    let length = row.needed("tube_length_ft")?;
    if lift.abs() > length {
        return Err(Fault::new(
            "`tube_length_ft` is less than `vertical_lift_ft`: it is the whole length of the tube",
        ));
    }
    let flow = WaterFlow::new(row.needed("flow_gph")? / 60.0);
    let smooth = Length::nearest(SMOOTH * 12.0);
    let found = pipe_flow(inches(row, "inside_diameter_in")?, smooth, &liquid, flow)
        .ok_or_else(|| Fault::new("the tube has no bore"))?;
    let friction = found.friction(Length::nearest(length * 12.0));
    let minor = found.velocity_head * row.needed("minor_K")?;
    let total = Head::new(lift * 12.0) + friction + minor;
    let answers = Answers::default()
        .number("density_lb_per_ft3", liquid.density.value())
        .number("viscosity_lb_per_ft_s", liquid.viscosity.value())
        .number("velocity_ft_per_s", found.velocity.value() / 60.0)
        .number("reynolds", found.reynolds)
        .words("regime", found.regime.to_string())
        .number("friction_head_ft", friction.value() / 12.0)
        .number("minor_head_ft", minor.value() / 12.0)
        .number("total_head_ft", total.value() / 12.0)
        .number(
            "total_pressure_psi",
            head_pressure(total, liquid.density).psi(),
        );
    Ok(match found.darcy {
        Some(factor) => answers.number("darcy_f", factor),
        None => answers,
    })
}
