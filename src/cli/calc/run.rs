//! The `calc` command: which table, and whether one case or a file of them.

use std::path::Path;

use super::air_network::compute_network;
use super::bench::{BENCHES, Bench};
use super::cutting::compute_cutting;
use super::list::{describe, list};
use super::table::compute_table;
use super::typed::compute_typed;

/// What `calc` gives back.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CalcOutcome {
    /// For standard output.
    pub out: String,
    /// For standard error.
    pub err: String,
    /// 0 all fine, 1 some row bad, 2 could not run.
    pub code: u8,
}

impl CalcOutcome {
    /// Nothing computed, and why.
    pub(super) fn refused(message: impl AsRef<str>) -> Self {
        Self {
            out: String::new(),
            err: format!("error: {}\n", message.as_ref()),
            code: 2,
        }
    }

    /// Text alone.
    fn said(out: String) -> Self {
        Self {
            out,
            ..Self::default()
        }
    }
}

/// Those that take a file of their own form.
const NETWORK: &str = "air-network";
const CUTTING: &str = "cutting";

fn unknown(name: &str) -> CalcOutcome {
    let nearest = BENCHES
        .iter()
        .map(|bench| {
            (
                strsim::osa_distance(bench.name, &name.replace('_', "-")),
                bench.name,
            )
        })
        .min()
        .filter(|(distance, near)| *distance <= near.len() / 2);
    let hint = match nearest {
        Some((_, near)) => format!("\n  help: `bayrun calc {near}`"),
        None => "\n  help: `bayrun calc` lists what there is".to_owned(),
    };
    CalcOutcome::refused(format!("`{name}` is nothing that calc computes{hint}"))
}

/// Runs the bench calculator: `name` of a table, `pairs` of `key=value`, or a CSV `table`.
pub fn calc(name: Option<&str>, pairs: &[String], table: Option<&Path>) -> CalcOutcome {
    let Some(name) = name else {
        return match table {
            Some(_) => CalcOutcome::refused(
                "--table goes with the name of what to compute\n  help: `bayrun calc` lists what there is",
            ),
            None => CalcOutcome::said(list()),
        };
    };
    if name == NETWORK {
        return match (pairs, table) {
            ([file], None) => compute_network(Path::new(file)),
            _ => CalcOutcome::refused(format!(
                "{NETWORK} takes one file\n  help: `bayrun calc {NETWORK} FILE.json`"
            )),
        };
    }
    if name == CUTTING {
        return match (pairs, table) {
            ([file], None) => compute_cutting(Path::new(file)),
            _ => CalcOutcome::refused(format!(
                "{CUTTING} takes one file\n  help: `bayrun calc {CUTTING} FILE`"
            )),
        };
    }
    let Some(bench) = Bench::named(name) else {
        return unknown(name);
    };
    match (table, pairs.is_empty()) {
        (Some(_), false) => {
            CalcOutcome::refused("give either `key=value` or `--table FILE.csv`, not both")
        }
        (Some(path), true) => compute_table(bench, path),
        (None, false) => compute_typed(bench, pairs),
        (None, true) => CalcOutcome::said(describe(bench)),
    }
}
