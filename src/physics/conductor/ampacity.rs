//! Ampacity of insulated copper and its corrections: NFPA 70 Tables 310.16, 310.15(B)(1), 310.15(C)(1).

use std::sync::LazyLock;

use super::super::standard_table::StandardTable;
use super::Size;
use crate::quantity::{Current, Temperature};

static TABLE_310_16: LazyLock<StandardTable> =
    LazyLock::new(|| StandardTable::read(include_str!("nec_table_310_16.csv")));
static TABLE_310_15_B_1: LazyLock<StandardTable> =
    LazyLock::new(|| StandardTable::read(include_str!("nec_table_310_15_b_1.csv")));
static TABLE_310_15_C_1: LazyLock<StandardTable> =
    LazyLock::new(|| StandardTable::read(include_str!("nec_table_310_15_c_1.csv")));

/// Temperature rating of a conductor, which is the column of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Column {
    /// 60 °C: cable NM-B is used in this column.
    C60,
    /// 75 °C.
    C75,
    /// 90 °C: the column from which ambient heat is corrected.
    C90,
}

impl Column {
    /// As the table heads it: `60`, `75`, `90`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::C60 => "60",
            Self::C75 => "75",
            Self::C90 => "90",
        }
    }

    /// From `60`, `75` or `90`.
    pub fn read(text: &str) -> Option<Self> {
        [Self::C60, Self::C75, Self::C90]
            .into_iter()
            .find(|column| column.name() == text)
    }
}

/// Ampacity of copper, not more than three current-carrying conductors together, ambient 86 °F (30 °C).
pub fn ampacity(size: Size, column: Column) -> Option<Current> {
    let entry = TABLE_310_16.entry("size", &size.to_string())?;
    entry.number(column.name()).map(Current::new)
}

/// Factor on ampacity for ambient heat; none where the insulation has nothing left or the table ends.
pub fn ambient_factor(column: Column, ambient: Temperature) -> Option<f64> {
    TABLE_310_15_B_1
        .entries()
        .find(|entry| entry.number("to_f").is_some_and(|to| ambient.value() <= to))?
        .number(column.name())
}

/// The same factor by the Celsius range that the table prints (`31-35`, `10 or less`).
pub fn ambient_factor_of_row(column: Column, label: &str) -> Option<f64> {
    TABLE_310_15_B_1
        .entry("label", label)?
        .number(column.name())
}

/// Factor on ampacity for more than three current-carrying conductors together; 1 up to three.
pub fn bundling_factor(conductors: u32) -> Option<f64> {
    let count = f64::from(conductors);
    match conductors {
        0 => None,
        1..=3 => Some(1.0),
        _ => TABLE_310_15_C_1
            .entries()
            .find(|entry| entry.number("to").is_none_or(|to| count <= to))?
            .number("factor"),
    }
}

#[cfg(test)]
mod tests {
    use super::super::sizes;
    use super::*;

    #[test]
    fn the_tables_are_whole() {
        TABLE_310_16.assert_whole(&["60", "75", "90"]);
        TABLE_310_15_B_1.assert_whole(&["to_f", "60", "75", "90"]);
        TABLE_310_15_C_1.assert_whole(&["from", "to", "factor"]);
        assert!(sizes().all(|size| ampacity(size, Column::C90).is_some()));
    }

    #[test]
    fn thicker_copper_and_hotter_insulation_carry_more() {
        for column in [Column::C60, Column::C75, Column::C90] {
            let carried: Vec<f64> = sizes()
                .filter_map(|size| ampacity(size, column))
                .map(Current::value)
                .collect();
            assert!(carried.is_sorted_by(|a, b| a < b));
        }
        for size in sizes() {
            let of = |column| ampacity(size, column).map_or(0.0, Current::value);
            assert!(
                of(Column::C60) <= of(Column::C75) && of(Column::C75) < of(Column::C90)
                    || of(Column::C75) == 0.0
            );
        }
    }

    /// The table's own law: sqrt((rating − ambient) / (rating − 30 °C)) at the top of each range.
    #[test]
    fn ambient_factors_follow_their_law() {
        for (rating, column) in [
            (60.0, Column::C60),
            (75.0, Column::C75),
            (90.0, Column::C90),
        ] {
            for top in (10..=85).step_by(5).map(f64::from) {
                let law = ((rating - top) / (rating - 30.0_f64)).max(0.0).sqrt();
                match ambient_factor(column, Temperature::from_celsius(top)) {
                    Some(factor) => assert!((factor - law).abs() < 0.005_1, "{rating} {top}"),
                    None => assert!(rating - top <= 5.0, "{rating} {top}"),
                }
            }
        }
    }

    #[test]
    fn a_range_ends_at_its_own_temperature() {
        let at = |f| ambient_factor(Column::C90, Temperature::new(f));
        assert_eq!(at(86.0), Some(1.0));
        assert_eq!(at(86.1), Some(0.96));
        assert_eq!(at(131.0), Some(0.76));
        assert_eq!(at(185.0), Some(0.29));
        assert_eq!(at(185.1), None);
        assert_eq!(at(f64::NAN), None);
    }

    #[test]
    fn bundles_are_counted_to_their_ends() {
        for (count, factor) in [
            (3, 1.0),
            (4, 0.8),
            (6, 0.8),
            (7, 0.7),
            (9, 0.7),
            (10, 0.5),
            (20, 0.5),
            (21, 0.45),
            (31, 0.4),
            (40, 0.4),
            (41, 0.35),
        ] {
            assert_eq!(bundling_factor(count), Some(factor), "{count}");
        }
        assert_eq!(bundling_factor(0), None);
    }
}
