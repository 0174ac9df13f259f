//! `trap-seal`: what a cabinet's static pressure asks of its condensate trap, and whether a trap given holds.

use super::bench::Bench;
use super::column::Column;
use super::row::{Answers, Fault, Row};
use crate::physics::trap::{Seal, need};
use crate::quantity::{Head, Length, Pressure, Temperature};

pub(super) const BENCH: Bench = Bench {
    name: "trap-seal",
    about: "condensate trap for a cabinet under suction (below zero) or pressure: kind = design or trial",
    columns: &[
        Column::key("case"),
        Column::choice("kind"),
        Column::input("cabinet_static_inwc", "inwc").within(-50.0, 50.0),
        Column::input("water_F", "F").within(32.0, 211.0),
        Column::input("margin_in", "in").within(0.0, 100.0),
        Column::result("water_column_in", "in"),
        Column::result("min_outlet_drop_H_in", "in"),
        Column::result("design_outlet_drop_H_in", "in"),
        Column::result("min_seal_depth_J_in", "in"),
        Column::result("design_seal_depth_J_in", "in"),
        Column::result("running_inlet_leg_rise_in", "in"),
        Column::result("startup_inlet_leg_rise_in", "in"),
        Column::result("startup_outlet_leg_fall_in", "in"),
        Column::result("total_depth_H_plus_J_in", "in"),
        Column::input("given_H_in", "in").within(0.0, 1000.0),
        Column::input("given_J_in", "in").within(0.0, 1000.0),
        Column::result("pan_floods_running", ""),
        Column::result("seal_lost_at_startup", ""),
    ],
    work,
};

fn work(row: &Row) -> Result<Answers, Fault> {
    let cabinet = Pressure::new(row.needed("cabinet_static_inwc")?);
    let need = need(cabinet, Temperature::new(row.needed("water_F")?))
        .ok_or_else(|| Fault::new("`water_F` is not liquid water"))?;
    let answers = Answers::default()
        .number("water_column_in", need.water_column.value())
        .number("min_outlet_drop_H_in", need.outlet_drop.value())
        .number("min_seal_depth_J_in", need.seal.value());
    match row.needed_word("kind")? {
        "design" => {
            let built = need.practice(Head::new(row.needed("margin_in")?));
            let levels = need.levels();
            let total = built.outlet_drop + built.seal;
            Ok(answers
                .number("design_outlet_drop_H_in", built.outlet_drop.value())
                .number("design_seal_depth_J_in", built.seal.value())
                .number("running_inlet_leg_rise_in", levels.running_inlet.value())
                .number("startup_inlet_leg_rise_in", levels.startup_inlet.value())
                .number(
                    "startup_outlet_leg_fall_in",
                    levels.startup_outlet_fall.value(),
                )
                .number("total_depth_H_plus_J_in", total.value()))
        }
        "trial" => {
            let trap = Seal {
                outlet_drop: Length::nearest(row.needed("given_H_in")?),
                seal: Length::nearest(row.needed("given_J_in")?),
            };
            Ok(answers
                .flag("pan_floods_running", trap.floods(&need))
                .flag("seal_lost_at_startup", trap.loses_seal(&need)))
        }
        other => Err(Fault::new(format!(
            "`kind` is `{other}`, not one of design, trial"
        ))),
    }
}
