//! Finds a pipe by material, type and nominal size, and how far it enters a fitting.
//!
//! Source: ASTM D1785 (PVC), B88 and B280 (copper), F876 (PEX); sockets by ASTM D2466 and ASME B16.22.

use std::sync::LazyLock;

use super::super::standard_table::StandardTable;
use crate::quantity::Length;

static PIPES: LazyLock<[StandardTable; 4]> = LazyLock::new(|| {
    [
        StandardTable::read(include_str!("astm_d1785.csv")),
        StandardTable::read(include_str!("astm_b88.csv")),
        StandardTable::read(include_str!("astm_b280.csv")),
        StandardTable::read(include_str!("astm_f876.csv")),
    ]
});
static D2466: LazyLock<StandardTable> =
    LazyLock::new(|| StandardTable::read(include_str!("astm_d2466.csv")));
static B16_22: LazyLock<StandardTable> =
    LazyLock::new(|| StandardTable::read(include_str!("asme_b16_22.csv")));

/// A pipe's section, as its standard prints it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pipe {
    /// Outside diameter.
    pub outside: Length,
    /// Wall: the minimum for plastics, nominal for copper.
    pub wall: Length,
    /// How far it enters a fitting, where the fitting's standard is held.
    pub socket: Option<Length>,
}

impl Pipe {
    /// Outside diameter less two walls; for plastics 1 to 3 % more than the average.
    pub fn inside(&self) -> Length {
        self.outside - self.wall - self.wall
    }
}

/// A pipe of `material` (`PVC`, `copper`, `PEX`), type (`schedule 40`, `type L`, `ACR annealed coil`,
/// `ACR drawn straight length`, `SDR 9 (CTS)`) and nominal size (`1-1/4` or `1 1/4`).
pub fn find(material: &str, kind: &str, nominal: &str) -> Option<Pipe> {
    let nominal = nominal.trim().replacen(' ', "-", 1);
    let entry = PIPES
        .iter()
        .flat_map(StandardTable::entries)
        .find(|entry| {
            entry.text("material") == Some(material)
                && entry.text("type") == Some(kind)
                && entry.text("nominal") == Some(nominal.as_str())
        })?;
    Some(Pipe {
        outside: Length::nearest(entry.number("outside")?),
        wall: Length::nearest(entry.number("wall")?),
        socket: socket_depth(material, kind, &nominal),
    })
}

/// How far a pipe enters its fitting: ASTM D2466 for PVC schedule 40 (minimum socket length), ASME B16.22
/// for copper water tube (cup depth); none where no standard is held.
pub fn socket_depth(material: &str, kind: &str, nominal: &str) -> Option<Length> {
    let table = match (material, kind) {
        ("PVC", "schedule 40") => &D2466,
        ("copper", "type K" | "type L" | "type M") => &B16_22,
        _ => return None,
    };
    let entry = table.entry("nominal", nominal)?;
    entry.number("depth").map(Length::nearest)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tables_are_whole() {
        for table in PIPES.iter() {
            table.assert_whole(&["outside", "wall"]);
            for entry in table.entries() {
                let pipe = find(
                    entry.text("material").unwrap(),
                    entry.text("type").unwrap(),
                    entry.text("nominal").unwrap(),
                )
                .unwrap();
                assert!(pipe.inside() > Length::ZERO && pipe.wall > Length::ZERO);
            }
        }
        D2466.assert_whole(&["depth"]);
        B16_22.assert_whole(&["depth"]);
    }

    /// Weight per foot of copper tube from its own standard: 1 in type L weighs 0.655 lb/ft.
    #[test]
    fn a_copper_tube_weighs_what_its_standard_says() {
        for (kind, nominal, weight) in [
            ("type L", "1", 0.655),
            ("type K", "2", 2.06),
            ("type M", "1/2", 0.204),
            ("type L", "3/4", 0.455),
        ] {
            let pipe = find("copper", kind, nominal).unwrap();
            let (o, i) = (pipe.outside.to_inches(), pipe.inside().to_inches());
            let found = std::f64::consts::FRAC_PI_4 * (o * o - i * i) * 12.0 * 0.323;
            assert!(
                (found / weight - 1.0).abs() < 0.01,
                "{kind} {nominal} {found}"
            );
        }
    }

    #[test]
    fn a_nominal_size_reads_with_hyphen_or_space() {
        assert_eq!(
            find("PVC", "schedule 40", "1 1/4"),
            find("PVC", "schedule 40", "1-1/4")
        );
        assert_eq!(find("PVC", "schedule 40", "7"), None);
    }
}
