//! Overcurrent devices and grounding: NFPA 70 240.4(D), 240.6(A) and Table 250.122.

use std::sync::LazyLock;

use super::super::standard_table::StandardTable;
use super::Size;
use crate::quantity::Current;

static SECTION_240_4_D: LazyLock<StandardTable> =
    LazyLock::new(|| StandardTable::read(include_str!("nec_240_4_d.csv")));
static SECTION_240_6_A: LazyLock<StandardTable> =
    LazyLock::new(|| StandardTable::read(include_str!("nec_240_6_a.csv")));
static TABLE_250_122: LazyLock<StandardTable> =
    LazyLock::new(|| StandardTable::read(include_str!("nec_table_250_122.csv")));

/// An edition of the code, by its year.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Edition(u16);

impl Edition {
    /// The edition of a year.
    pub const fn new(year: u16) -> Self {
        Self(year)
    }

    /// Its year.
    pub const fn year(self) -> u16 {
        self.0
    }
}

impl Default for Edition {
    /// 2020: without the 10 A rating that 2023 adds.
    fn default() -> Self {
        Self(2020)
    }
}

/// What a conductor is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Metal {
    /// Copper.
    Copper,
    /// Aluminum or copper-clad aluminum.
    Aluminum,
}

/// Largest overcurrent device of a small conductor by the general rule, 240.4(D); none where it sets none.
pub fn small_conductor_limit(size: Size, metal: Metal) -> Option<Current> {
    let metal = match metal {
        Metal::Copper => "copper",
        Metal::Aluminum => "aluminum",
    };
    let size = size.to_string();
    SECTION_240_4_D
        .entries()
        .find(|entry| {
            entry.text("size") == Some(size.as_str()) && entry.text("metal") == Some(metal)
        })?
        .number("largest")
        .map(Current::new)
}

/// Standard ratings of an edition, small to large, A.
fn ratings(edition: Edition) -> impl DoubleEndedIterator<Item = f64> {
    let listed: Vec<f64> = SECTION_240_6_A
        .entries()
        .filter(|entry| {
            entry
                .number("edition")
                .is_some_and(|from| from <= f64::from(edition.0.max(2017)))
        })
        .filter_map(|entry| entry.number("rating"))
        .collect();
    listed.into_iter()
}

/// The next standard rating at or above a current, 240.6(A); none above 6000 A.
pub fn standard_rating_at_or_above(current: Current, edition: Edition) -> Option<Current> {
    ratings(edition)
        .find(|rating| *rating >= current.value())
        .map(Current::new)
}

/// The largest standard rating not above a current, 240.6(A); none below the least.
pub fn largest_standard_rating_not_above(current: Current, edition: Edition) -> Option<Current> {
    ratings(edition)
        .rfind(|rating| *rating <= current.value())
        .map(Current::new)
}

/// Smallest copper equipment grounding conductor for an overcurrent device, Table 250.122; none above 6000 A.
pub fn grounding_conductor(device: Current) -> Option<Size> {
    if device.value() <= 0.0 {
        return None;
    }
    TABLE_250_122
        .entries()
        .find(|entry| {
            entry
                .number("device")
                .is_some_and(|to| device.value() <= to)
        })?
        .text("copper")
        .and_then(Size::read)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tables_are_whole_and_sorted() {
        SECTION_240_4_D.assert_whole(&["largest"]);
        SECTION_240_6_A.assert_whole(&["rating", "edition"]);
        TABLE_250_122.assert_whole(&["device"]);
        assert!(ratings(Edition::new(2023)).is_sorted_by(|a, b| a < b));
    }

    #[test]
    fn ten_amperes_belong_to_2023_alone() {
        let above = |a, year| {
            standard_rating_at_or_above(Current::new(a), Edition::new(year)).map(Current::value)
        };
        assert_eq!(above(9.0, 2014), Some(15.0));
        assert_eq!(above(9.0, 2020), Some(15.0));
        assert_eq!(above(9.0, 2023), Some(10.0));
        assert_eq!(above(15.0, 2020), Some(15.0));
        assert_eq!(above(15.01, 2020), Some(20.0));
        assert_eq!(above(6000.1, 2020), None);
        let below = |a| {
            largest_standard_rating_not_above(Current::new(a), Edition::default())
                .map(Current::value)
        };
        assert_eq!(below(14.9), None);
        assert_eq!(below(15.0), Some(15.0));
        assert_eq!(below(7000.0), Some(6000.0));
    }

    #[test]
    fn grounding_steps_at_its_own_rating() {
        let of = |a| grounding_conductor(Current::new(a)).map(|size| size.to_string());
        assert_eq!(of(20.0).as_deref(), Some("12 AWG"));
        assert_eq!(of(20.1).as_deref(), Some("10 AWG"));
        assert_eq!(of(60.0).as_deref(), Some("10 AWG"));
        assert_eq!(of(61.0).as_deref(), Some("8 AWG"));
        assert_eq!(of(6001.0), None);
        assert_eq!(of(0.0), None);
    }

    #[test]
    fn small_conductors_have_their_limits() {
        let of = |gauge, metal| small_conductor_limit(Size::Awg(gauge), metal).map(Current::value);
        assert_eq!(of(18, Metal::Copper), Some(7.0));
        assert_eq!(of(14, Metal::Copper), Some(15.0));
        assert_eq!(of(12, Metal::Aluminum), Some(15.0));
        assert_eq!(of(8, Metal::Copper), None);
    }
}
