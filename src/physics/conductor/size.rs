//! The size of a conductor, by gauge or by thousands of circular mils.

use std::fmt;

use crate::quantity::WireGauge;

/// A size of conductor.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Size {
    /// American wire gauge: 18 thin, 1 thick, then 0 for 1/0, −1 for 2/0, −2 for 3/0, −3 for 4/0.
    Awg(i8),
    /// Thousands of circular mils.
    Kcmil(u16),
}

impl Size {
    /// From a gauge of the language; none for a fraction of a gauge or one that no table knows.
    pub fn awg(gauge: WireGauge) -> Option<Self> {
        (-3_i8..=40)
            .find(|whole| f64::from(*whole).to_bits() == gauge.value().to_bits())
            .map(Self::Awg)
            .or_else(|| (gauge.value() == 0.0).then_some(Self::Awg(0)))
    }

    /// From words: `14 AWG`, `2/0 AWG`, `250 kcmil`; a bare number is a gauge.
    pub fn read(text: &str) -> Option<Self> {
        let text = text.trim();
        if let Some(thousands) = text.strip_suffix("kcmil") {
            return thousands.trim().parse().ok().map(Self::Kcmil);
        }
        let gauge = text.strip_suffix("AWG").unwrap_or(text).trim();
        let gauge: i8 = match gauge.strip_suffix("/0") {
            Some(aughts) => {
                1_i8.checked_sub(aughts.parse().ok().filter(|n| (1..=4).contains(n))?)?
            }
            None => gauge.parse().ok().filter(|n| (0..=40).contains(n))?,
        };
        Some(Self::Awg(gauge))
    }
}

impl fmt::Display for Size {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Awg(gauge) if gauge > 0 => write!(f, "{gauge} AWG"),
            Self::Awg(gauge) => write!(f, "{}/0 AWG", 1 - i16::from(gauge)),
            Self::Kcmil(thousands) => write!(f, "{thousands} kcmil"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_read_as_the_trade_writes_them() {
        for text in ["18 AWG", "1 AWG", "1/0 AWG", "4/0 AWG", "250 kcmil"] {
            assert_eq!(
                Size::read(text).map(|s| s.to_string()).as_deref(),
                Some(text)
            );
        }
        assert_eq!(Size::read("12"), Some(Size::Awg(12)));
        assert_eq!(Size::read("2/0"), Some(Size::Awg(-1)));
        for text in ["", "AWG", "5/0 AWG", "0/0", "12.5 AWG", "-3", "kcmil"] {
            assert_eq!(Size::read(text), None, "{text}");
        }
    }

    #[test]
    fn a_gauge_of_the_language_is_whole() {
        assert_eq!(Size::awg(WireGauge::new(14.0)), Some(Size::Awg(14)));
        assert_eq!(Size::awg(WireGauge::new(-1.0)), Some(Size::Awg(-1)));
        assert_eq!(Size::awg(WireGauge::new(-0.0)), Some(Size::Awg(0)));
        assert_eq!(Size::awg(WireGauge::new(13.5)), None);
    }
}
