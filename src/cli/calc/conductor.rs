//! `conductor`: one fact of the electrical code, by table, item and parameter.

use super::bench::Bench;
use super::column::Column;
use super::pipe_dims::NOT_HELD;
use super::row::{Answers, Fault, Row};
use super::voltage_drop::stranding;
use crate::physics::conductor::{
    self, Column as Rating, Edition, Metal, Size, ambient_factor_of_row, ampacity, bundling_factor,
    grounding_conductor, largest_standard_rating_not_above, small_conductor_limit,
    standard_rating_at_or_above,
};
use crate::quantity::Current;

pub(super) const BENCH: Bench = Bench {
    name: "conductor",
    about: "a fact of NFPA 70 (2020) by table, item and parameter; `not held` where no table here has it",
    columns: &[
        Column::key("case"),
        Column::choice("table"),
        Column::choice("item"),
        Column::choice("parameter"),
        Column::result("value", ""),
        Column::text("unit"),
        Column::text("provenance"),
    ],
    work,
};

fn work(row: &Row) -> Result<Answers, Fault> {
    let item = row.needed_word("item")?;
    let parameter = row.needed_word("parameter")?;
    let (found, unit) = match row.needed_word("table")? {
        "NEC Chapter 9 Table 8" if parameter == "area" => (area(item), "circular mil"),
        "NEC Chapter 9 Table 8" => (resistance(item, parameter), "ohm per 1000 ft"),
        "NEC Table 310.16" => (carried(item, parameter), "A"),
        "NEC Table 310.15(B)(1)" => (heat(item, parameter), "factor"),
        "NEC Table 310.15(C)(1)" => (bundle(item, parameter), "factor"),
        "NEC 240.4(D)" => (small(item, parameter), "A"),
        "NEC Table 250.122" => return Ok(grounding(item, parameter)),
        "NEC 240.6(A)" => (standard(item, parameter), "A"),
        _ => (None, ""),
    };
    Ok(match found {
        Some(value) => Answers::default()
            .number("value", value)
            .words("unit", unit),
        None => Answers::default().words("value", NOT_HELD),
    })
}

/// A size with its unit, as the tables' items are written.
fn size(item: &str) -> Option<Size> {
    Size::read(item).filter(|size| size.to_string() == item)
}

fn amperes(item: &str, suffix: &str) -> Option<Current> {
    let value: f64 = item.strip_suffix(suffix)?.trim().parse().ok()?;
    (value.is_finite() && value > 0.0).then(|| Current::new(value))
}

fn area(item: &str) -> Option<f64> {
    let mil = std::f64::consts::FRAC_PI_4 * 1e-6;
    Some(conductor::area(size(item)?)?.value() / mil)
}

fn resistance(item: &str, parameter: &str) -> Option<f64> {
    let kind = parameter.strip_prefix("dc resistance 75 C, uncoated copper, ")?;
    Some(conductor::resistance(size(item)?, stranding(kind)?)?.value())
}

fn carried(item: &str, parameter: &str) -> Option<f64> {
    let column = parameter
        .strip_prefix("ampacity copper ")?
        .strip_suffix(" C")?;
    Some(ampacity(size(item)?, Rating::read(column)?)?.value())
}

fn heat(item: &str, parameter: &str) -> Option<f64> {
    let label = item.strip_suffix(" C ambient")?;
    let column = parameter
        .strip_prefix("correction factor, ")?
        .strip_suffix(" C conductor (30 C base)")?;
    ambient_factor_of_row(Rating::read(column)?, label)
}

/// `21-30 current-carrying conductors`; the last row is `41 and above` or `41 or more`; a single count is read too.
fn bundle(item: &str, parameter: &str) -> Option<f64> {
    if parameter != "adjustment factor" {
        return None;
    }
    let count = item.strip_suffix(" current-carrying conductors")?.trim();
    let count = ["and above", "or more", "and more", "and over"]
        .iter()
        .find_map(|open| count.strip_suffix(open))
        .map_or((count, false), |first| (first.trim(), true));
    let (first, last) = match count {
        (first, true) => {
            let first: u32 = first.parse().ok()?;
            (first, first.max(1_000_000))
        }
        (range, false) => match range.split_once('-') {
            Some((first, last)) => (first.parse().ok()?, last.parse().ok()?),
            None => (range.parse().ok()?, range.parse().ok()?),
        },
    };
    let factor = bundling_factor(first)?;
    (first <= last && bundling_factor(last)?.to_bits() == factor.to_bits()).then_some(factor)
}

fn small(item: &str, parameter: &str) -> Option<f64> {
    if parameter != "largest overcurrent device, general rule" {
        return None;
    }
    let (gauge, metal) = match item.strip_suffix(" copper") {
        Some(gauge) => (gauge, Metal::Copper),
        None => (item.strip_suffix(" aluminum")?, Metal::Aluminum),
    };
    Some(small_conductor_limit(size(gauge)?, metal)?.value())
}

/// The number of a gauge or of thousands of circular mils: the table's unit stands in its own column.
fn grounding(item: &str, parameter: &str) -> Answers {
    let found = (parameter == "smallest copper equipment grounding conductor")
        .then(|| amperes(item, " A overcurrent device"))
        .flatten()
        .and_then(grounding_conductor)
        .map(|size| size.to_string());
    let parts = found.as_deref().and_then(|size| size.split_once(' '));
    match parts {
        Some((number, unit)) => Answers::default()
            .words("value", number)
            .words("unit", unit),
        None => Answers::default().words("value", NOT_HELD),
    }
}

fn standard(item: &str, parameter: &str) -> Option<f64> {
    let current = amperes(item, " A")?;
    let edition = Edition::default();
    let rating = match parameter {
        "next standard rating at or above" => standard_rating_at_or_above(current, edition),
        "largest standard rating not above" => largest_standard_rating_not_above(current, edition),
        _ => None,
    };
    rating.map(Current::value)
}
