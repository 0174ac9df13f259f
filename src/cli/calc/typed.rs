//! `calc NAME key=value …`: one case, with units as the language reads them.

use std::fmt::Write as _;

use super::bench::Bench;
use super::column::{Column, Role};
use super::row::Row;
use super::run::CalcOutcome;
use crate::quantity::{Dimension, Unit, read_all, unit_named};

/// A number with a unit, in the unit of the column.
fn in_unit(text: &str, unit: &Unit) -> Option<f64> {
    let quantity = read_all(text, unit.dimension).ok()?;
    if let Some(length) = quantity.length() {
        return Some(length.nm() as f64 / unit.factor);
    }
    Some((quantity.real() - unit.offset) / unit.factor)
}

/// The cell that a typed value stands for: a bare number as it is, one with a unit turned into the column's.
fn cell(column: &Column, text: &str) -> Result<String, String> {
    let text = text.trim();
    if column.words || text.is_empty() || text.parse::<f64>().is_ok() {
        return Ok(text.to_owned());
    }
    if let Ok(bare) = read_all(text, Dimension::Count) {
        return Ok(bare.real().to_string());
    }
    let value = match unit_named(column.unit) {
        Some(unit) => in_unit(text, unit),
        None if column.unit == "fraction" => read_all(text, Dimension::Humidity)
            .ok()
            .map(|share| share.real() / 100.0),
        None => None,
    };
    value.map(|value| value.to_string()).ok_or_else(|| {
        let unit = if column.unit.is_empty() {
            "a number".to_owned()
        } else {
            format!("a number in {}", column.unit)
        };
        format!("`{}` is `{text}`, which is not {unit}", column.name)
    })
}

fn known(bench: &Bench, key: &str) -> Result<&'static Column, String> {
    if let Some(column) = bench.columns.iter().find(|column| column.name == key) {
        return if column.role == Role::Result && column.given.is_none() {
            Err(format!("`{key}` is computed, not given"))
        } else {
            Ok(column)
        };
    }
    let nearest = bench
        .columns
        .iter()
        .filter(|column| column.role != Role::Result || column.given.is_some())
        .map(|column| (strsim::osa_distance(column.name, key), column.name))
        .min()
        .filter(|(distance, name)| *distance <= name.len() / 2);
    let hint = match nearest {
        Some((_, near)) => format!("\n  help: `{near}=…`"),
        None => format!("\n  help: `bayrun calc {}` lists its columns", bench.name),
    };
    Err(format!("`{key}` is no column of {}{hint}", bench.name))
}

/// Computes one case and prints its results as `name value unit`.
pub(super) fn compute_typed(bench: &'static Bench, pairs: &[String]) -> CalcOutcome {
    let mut cells: Vec<(&'static str, String)> = Vec::new();
    for pair in pairs {
        let Some((key, value)) = pair.split_once('=') else {
            return CalcOutcome::refused(format!("`{pair}` is not of the form `key=value`"));
        };
        let read =
            known(bench, key.trim()).and_then(|column| Ok((column.name, cell(column, value)?)));
        match read {
            Ok((name, _)) if cells.iter().any(|(other, _)| *other == name) => {
                return CalcOutcome::refused(format!("`{name}` is given twice"));
            }
            Ok(read) => cells.push(read),
            Err(why) => return CalcOutcome::refused(why),
        }
    }
    let mut row = Row::new(bench.columns, |name| {
        cells
            .iter()
            .find(|(column, _)| *column == name)
            .map_or(String::new(), |(_, text)| text.clone())
    });
    row.typed = true;
    match bench.answer(&row) {
        Ok(answers) => {
            let lines: Vec<(&Column, &str)> = bench
                .columns
                .iter()
                .filter(|column| column.role != Role::Input || row.word(column.name).is_none())
                .filter_map(|column| Some((column, answers.get(column.name)?)))
                .collect();
            let names = lines.iter().map(|(c, _)| c.name.len()).max().unwrap_or(0);
            let counted = lines.iter().filter(|(column, _)| !column.unit.is_empty());
            let values = counted.map(|(_, v)| v.len()).max().unwrap_or(0);
            let mut out = String::new();
            for (column, value) in lines {
                let line = format!("{:<names$}  {value:<values$}  {}", column.name, column.unit);
                let _ = writeln!(out, "{}", line.trim_end());
            }
            CalcOutcome {
                out,
                ..CalcOutcome::default()
            }
        }
        Err(faults) => {
            let mut err = String::new();
            for fault in faults {
                let _ = writeln!(err, "error: {}", fault.text());
            }
            CalcOutcome {
                out: String::new(),
                err,
                code: 1,
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::number::ten_digits;
    use super::*;

    #[test]
    fn units_turn_into_the_column_s_own() {
        let of = |column: Column, text: &str| {
            cell(&column, text).map(|t| ten_digits(t.parse().unwrap()))
        };
        let feet = Column::input("a", "ft");
        assert_eq!(of(feet, "5280").as_deref(), Ok("5280"));
        assert_eq!(of(feet, "1/2").as_deref(), Ok("0.5"));
        assert_eq!(of(feet, "12 ft 6 in").as_deref(), Ok("12.5"));
        assert_eq!(of(feet, "1 m").as_deref(), Ok("3.280839895"));
        assert!(of(feet, "5 cfm").is_err());
        let celsius = Column::input("t", "C");
        assert_eq!(of(celsius, "167 F").as_deref(), Ok("75"));
        assert_eq!(of(celsius, "75 C").as_deref(), Ok("75"));
        let share = Column::input("rh", "fraction");
        assert_eq!(of(share, "50 %RH").as_deref(), Ok("0.5"));
        assert_eq!(of(share, "50 %").as_deref(), Ok("0.5"));
        assert_eq!(
            of(Column::input("p", "psi"), "27.68 inwc").as_deref(),
            Ok("1.000003443")
        );
    }
}
