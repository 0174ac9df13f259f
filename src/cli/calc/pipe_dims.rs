//! `pipe-dims`: outside, wall, inside and socket of a pipe by its nominal size.

use super::bench::Bench;
use super::column::Column;
use super::row::{Answers, Fault, Row};
use crate::physics::pipe_dims::find;

pub(super) const BENCH: Bench = Bench {
    name: "pipe-dims",
    about: "pipe by material (PVC, copper, PEX), type and nominal size; `not held` where no table here has it",
    columns: &[
        Column::key("case"),
        Column::choice("material"),
        Column::choice("type"),
        Column::text("standard"),
        Column::choice("nominal_size_in"),
        Column::result("outside_diameter_in", "in"),
        Column::result("wall_in", "in"),
        Column::text("wall_meaning"),
        Column::result("inside_diameter_in", "in"),
        Column::result("socket_depth_in", "in"),
        Column::text("socket_standard"),
        Column::text("provenance"),
    ],
    work,
};

/// The answer where a table does not hold a value.
pub(super) const NOT_HELD: &str = "not held";

fn work(row: &Row) -> Result<Answers, Fault> {
    let nominal = row.needed_word("nominal_size_in")?;
    let nominal = nominal.trim_end_matches("in").trim_end_matches('"');
    let found = find(
        row.needed_word("material")?,
        row.needed_word("type")?,
        nominal,
    );
    let Some(pipe) = found else {
        let answers = Answers::default()
            .words("outside_diameter_in", NOT_HELD)
            .words("wall_in", NOT_HELD)
            .words("inside_diameter_in", NOT_HELD);
        return Ok(match row.word("socket_standard") {
            Some(_) => answers.words("socket_depth_in", NOT_HELD),
            None => answers,
        });
    };
    let answers = Answers::default()
        .number("outside_diameter_in", pipe.outside.to_inches())
        .number("wall_in", pipe.wall.to_inches())
        .number("inside_diameter_in", pipe.inside().to_inches());
    // A table that names no standard for the fitting asks for no socket.
    let asked = row.word("socket_standard").is_some() || row.typed;
    Ok(match pipe.socket {
        Some(socket) if asked => answers.number("socket_depth_in", socket.to_inches()),
        None if row.word("socket_standard").is_some() => answers.words("socket_depth_in", NOT_HELD),
        _ => answers,
    })
}
