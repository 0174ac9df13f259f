//! Area and resistance of conductors: NFPA 70 Chapter 9, Table 8.

use std::sync::LazyLock;

use super::super::standard_table::StandardTable;
use super::Size;
use crate::quantity::{Area, LineResistance};

static TABLE_8: LazyLock<StandardTable> =
    LazyLock::new(|| StandardTable::read(include_str!("nec_chapter_9_table_8.csv")));

/// One circular mil in in²: the area of a circle of a thousandth of an inch.
const CIRCULAR_MIL: f64 = std::f64::consts::FRAC_PI_4 * 1e-6;

/// One wire or several.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stranding {
    /// One wire.
    Solid,
    /// Several wires.
    Stranded,
}

/// Every size of the table, thin to thick.
pub fn sizes() -> impl Iterator<Item = Size> {
    TABLE_8
        .entries()
        .filter_map(|entry| entry.text("size").and_then(Size::read))
}

/// Area of the copper; none where the table holds no such size.
pub fn area(size: Size) -> Option<Area> {
    let entry = TABLE_8.entry("size", &size.to_string())?;
    Some(Area::new(entry.number("area")? * CIRCULAR_MIL))
}

/// Direct-current resistance of uncoated copper at 75 °C; none where the table holds none.
pub fn resistance(size: Size, stranding: Stranding) -> Option<LineResistance> {
    let column = match stranding {
        Stranding::Solid => "solid",
        Stranding::Stranded => "stranded",
    };
    let entry = TABLE_8.entry("size", &size.to_string())?;
    entry.number(column).map(LineResistance::new)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_whole() {
        TABLE_8.assert_whole(&["area", "solid", "stranded"]);
        assert_eq!(sizes().count(), TABLE_8.entries().count());
    }

    /// International annealed copper standard: 10.371 Ω·cmil/ft at 20 °C, 0.00393 per °C; stranded 1.02 times.
    #[test]
    fn resistance_follows_from_area() {
        for size in sizes() {
            let mils = area(size).unwrap().value() / CIRCULAR_MIL;
            let pure = 10.371 * (1.0 + 0.003_93 * 55.0) / mils * 1000.0;
            for (stranding, factor) in [(Stranding::Solid, 1.0), (Stranding::Stranded, 1.02)] {
                if let Some(found) = resistance(size, stranding) {
                    let off = found.value() / (pure * factor) - 1.0;
                    assert!(off.abs() < 0.006, "{size} {off}");
                }
            }
        }
    }

    /// American wire gauge: the diameter in mils is 5 × 92^((36 − gauge)/39).
    #[test]
    fn area_follows_from_gauge() {
        for size in sizes() {
            if let Size::Awg(gauge) = size {
                let diameter = 5.0 * libm::pow(92.0, (36.0 - f64::from(gauge)) / 39.0);
                let found = area(size).unwrap().value() / CIRCULAR_MIL;
                assert!((found / (diameter * diameter) - 1.0).abs() < 0.003);
            }
        }
    }
}
