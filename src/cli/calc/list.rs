//! What the calculator says about itself.

use std::fmt::Write as _;

use super::bench::{BENCHES, Bench};
use super::column::{Column, Role};

fn with_unit(column: &Column) -> String {
    if column.unit.is_empty() {
        column.name.to_owned()
    } else {
        format!("{} ({})", column.name, column.unit)
    }
}

fn group(out: &mut String, head: &str, bench: &Bench, keep: impl Fn(&Column) -> bool) {
    const WIDTH: usize = 96;
    let names: Vec<String> = bench
        .columns
        .iter()
        .filter(|column| keep(column))
        .map(with_unit)
        .collect();
    let mut line = format!("  {head:<9}");
    for (at, name) in names.iter().enumerate() {
        let comma = if at + 1 < names.len() { "," } else { "" };
        if line.len() + name.len() + 2 > WIDTH {
            let _ = writeln!(out, "{}", line.trim_end());
            line = " ".repeat(11);
        }
        let _ = write!(line, " {name}{comma}");
    }
    if !names.is_empty() {
        let _ = writeln!(out, "{}", line.trim_end());
    }
}

/// One bench with its columns.
pub(super) fn describe(bench: &Bench) -> String {
    let mut out = format!("{}\n  {}\n", bench.name, bench.about);
    group(&mut out, "takes", bench, |column| {
        matches!(column.role, Role::Choice | Role::Input)
    });
    group(&mut out, "one of", bench, |column| column.given.is_some());
    group(&mut out, "or gives", bench, |column| {
        column.role == Role::Property
    });
    group(&mut out, "gives", bench, |column| {
        column.role == Role::Result
    });
    out
}

/// Everything there is.
pub(super) fn list() -> String {
    let mut out = String::new();
    for bench in BENCHES {
        out.push_str(&describe(bench));
        out.push('\n');
    }
    out.push_str(
        "air-network\n  flows and pressures of a network of ducts with a blower, from a JSON file\n\n\
         cutting\n  pieces cut from stock lengths at little cost, with a lower bound, from a text file\n\n\
         bayrun calc air-network FILE.json     prints one CSV row for the source, each segment and each node\n\
         bayrun calc cutting FILE              prints cost, bound and bars as JSON; lines: kerf 2 · stock 1920 1190 · piece 905 3\n\
         bayrun calc NAME key=value …          one case; units as in the language, bare numbers in the column's unit\n\
         bayrun calc NAME --table FILE.csv     every row of a table with the columns above\n",
    );
    out
}
