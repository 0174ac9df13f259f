//! `fitting-loss`: loss coefficient of a bend, entrance, change of section or tee.

use super::air_friction::inches;
use super::bench::Bench;
use super::column::Column;
use super::row::{Answers, Fault, Row};
use crate::physics::fitting::{
    ENTRANCE_SHARP, EXIT, Tee, bend_miter, bend_round, contraction_conical, contraction_sharp,
    entrance_rounded, expansion_conical, expansion_sharp,
};
use crate::quantity::{AirFlow, Angle, Length};

pub(super) const BENCH: Bench = Bench {
    name: "fitting-loss",
    about: "loss coefficient: kind = bend_round, bend_miter, entrance_sharp, entrance_rounded, exit, \
            contraction_sharp, contraction_conical, expansion_sharp, expansion_conical, tee_branch or tee_run",
    columns: &[
        Column::key("case"),
        Column::choice("kind"),
        Column::input("diameter_in", "in").within(0.01, 10_000.0),
        Column::input("d1_in", "in").within(0.01, 10_000.0),
        Column::input("d2_in", "in").within(0.01, 10_000.0),
        Column::input("d_run_in", "in").within(0.01, 10_000.0),
        Column::input("d_branch_in", "in").within(0.01, 10_000.0),
        Column::input("angle_deg", "deg").within(0.0, 180.0),
        Column::input("r_over_D", "").within(0.0, 1000.0),
        Column::input("friction_factor", "").within(0.0, 1.0),
        Column::input("q_run_cfm", "cfm").within(0.0, 1e9),
        Column::input("q_branch_cfm", "cfm").within(0.0, 1e9),
        Column::result("K", ""),
        Column::text("K_reference"),
        Column::result("K_on_branch_velocity", ""),
        Column::text("other_methods"),
    ],
    work,
};

fn above_zero(row: &Row, name: &str) -> Result<f64, Fault> {
    let value = row.needed(name)?;
    if value > 0.0 {
        Ok(value)
    } else {
        Err(Fault::new(format!("`{name}` is zero")))
    }
}

fn angle(row: &Row) -> Result<Angle, Fault> {
    above_zero(row, "angle_deg").map(Angle::new)
}

/// Both diameters, and whether the first is the larger as the kind wants it.
fn ends(row: &Row, narrows: bool) -> Result<(Length, Length), Fault> {
    let (first, second) = (inches(row, "d1_in")?, inches(row, "d2_in")?);
    if first == second || (first > second) == narrows {
        return Ok((first, second));
    }
    Err(Fault::new(if narrows {
        "`d1_in` is smaller than `d2_in`: a contraction gets narrower downstream"
    } else {
        "`d1_in` is larger than `d2_in`: an expansion gets wider downstream"
    }))
}

fn tee(row: &Row) -> Result<Tee, Fault> {
    let tee = Tee {
        run: inches(row, "d_run_in")?,
        branch: inches(row, "d_branch_in")?,
        angle: angle(row)?,
        run_flow: AirFlow::new(row.needed("q_run_cfm")?),
        branch_flow: AirFlow::new(row.needed("q_branch_cfm")?),
    };
    if tee.branch > tee.run {
        return Err(Fault::new("`d_branch_in` is larger than `d_run_in`"));
    }
    if tee.branch_flow.value() <= 0.0 {
        return Err(Fault::new("`q_branch_cfm` is zero"));
    }
    Ok(tee)
}

fn work(row: &Row) -> Result<Answers, Fault> {
    let loss = match row.needed_word("kind")? {
        "bend_round" => bend_round(
            angle(row)?,
            above_zero(row, "r_over_D")?,
            row.needed("friction_factor")?,
        ),
        "bend_miter" => bend_miter(angle(row)?),
        "entrance_sharp" => ENTRANCE_SHARP,
        "entrance_rounded" => entrance_rounded(row.needed("r_over_D")?),
        "exit" => EXIT,
        "contraction_sharp" => {
            let (first, second) = ends(row, true)?;
            contraction_sharp(first, second)
        }
        "expansion_sharp" => {
            let (first, second) = ends(row, false)?;
            expansion_sharp(first, second)
        }
        "contraction_conical" => {
            let (first, second) = ends(row, true)?;
            contraction_conical(first, second, angle(row)?, row.needed("friction_factor")?)
        }
        "expansion_conical" => {
            let (first, second) = ends(row, false)?;
            expansion_conical(first, second, angle(row)?, row.needed("friction_factor")?)
        }
        "tee_branch" => {
            let tee = tee(row)?;
            let loss = tee.branch_loss();
            return Ok(Answers::default()
                .number("K", loss)
                .number("K_on_branch_velocity", loss * tee.onto_branch()));
        }
        "tee_run" => tee(row)?.run_loss(),
        other => {
            return Err(Fault::new(format!(
                "`kind` is `{other}`, which is no fitting held here"
            )));
        }
    };
    Ok(Answers::default().number("K", loss))
}
