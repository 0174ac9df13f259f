//! What an amount can be at all: outside of it nobody meant what is written.
//!
//! Wide on purpose: it is for slips of the key. What is merely unwise has a rule of its own.

use crate::quantity::{Dimension, number_text};

/// The range of amounts that are possible in a slot.
#[derive(Debug)]
pub(crate) struct Possible {
    /// The word, or none for any.
    pub(crate) word: Option<&'static str>,
    /// Dimension of the slot.
    pub(crate) dimension: Dimension,
    /// What it is, in words.
    pub(crate) what: &'static str,
    /// The least, in the unit in which the range is written.
    pub(crate) least: f64,
    /// The most.
    pub(crate) most: f64,
    /// The unit, as written.
    pub(crate) unit: &'static str,
    /// How many canonical units one is.
    per_unit: f64,
    /// Whether the least itself is possible.
    pub(crate) with_least: bool,
}

impl Possible {
    const fn any(
        dimension: Dimension,
        what: &'static str,
        range: (f64, f64),
        unit: &'static str,
    ) -> Self {
        Self {
            word: None,
            dimension,
            what,
            least: range.0,
            most: range.1,
            unit,
            per_unit: 1.0,
            with_least: true,
        }
    }

    const fn of(self, word: &'static str) -> Self {
        Self {
            word: Some(word),
            ..self
        }
    }

    const fn above_least(self) -> Self {
        Self {
            with_least: false,
            ..self
        }
    }

    /// Whether an amount, in canonical units, is possible.
    pub(crate) fn holds(&self, canonical: f64) -> bool {
        let value = canonical / self.per_unit;
        let above = if self.with_least {
            value >= self.least
        } else {
            value > self.least
        };
        above && value <= self.most
    }

    /// Both ends in the canonical unit.
    pub(crate) fn ends(&self) -> (f64, f64) {
        (self.least * self.per_unit, self.most * self.per_unit)
    }

    /// Both ends in words, `0 %RH and 100 %RH`.
    pub(crate) fn between(&self) -> String {
        let end = |value: f64| match self.unit {
            "" => number_text(value, 0),
            unit => format!("{} {unit}", number_text(value, 0)),
        };
        format!("{} and {}", end(self.least), end(self.most))
    }
}

/// What is possible, words of their own before dimensions. Physics where it sets an end (relative humidity, shares),
/// else an end that no house reaches, common practice.
pub(crate) static POSSIBLE: &[Possible] = &[
    Possible {
        word: Some("altitude"),
        dimension: Dimension::Length,
        what: "height of a site above the sea",
        least: -1500.0,
        most: 20_000.0,
        unit: "ft",
        per_unit: 12.0,
        with_least: true,
    },
    Possible::any(
        Dimension::Temperature,
        "water temperature",
        (32.0, 300.0),
        "F",
    )
    .of("water"),
    Possible::any(
        Dimension::Temperature,
        "temperature of air",
        (-80.0, 200.0),
        "F",
    ),
    Possible::any(
        Dimension::Humidity,
        "relative humidity",
        (0.0, 100.0),
        "%RH",
    ),
    Possible::any(Dimension::Ratio, "share", (0.0, 100.0), "%"),
    Possible::any(
        Dimension::AirFlow,
        "flow of air in a house",
        (0.0, 10_000.0),
        "cfm",
    )
    .above_least(),
    Possible::any(
        Dimension::WaterFlow,
        "flow of water in a house",
        (0.0, 500.0),
        "gpm",
    )
    .above_least(),
    Possible::any(
        Dimension::HeatFlow,
        "load of a room",
        (0.0, 1_000_000.0),
        "Btu/h",
    ),
    Possible::any(
        Dimension::Pressure,
        "pressure in a cabinet",
        (0.0, 20.0),
        "inwc",
    ),
    Possible::any(Dimension::Current, "current in a house", (0.0, 1000.0), "A").above_least(),
    Possible::any(Dimension::Angle, "angle of an elbow", (0.0, 180.0), "deg").above_least(),
    Possible::any(
        Dimension::Count,
        "year a house was built",
        (1500.0, 2200.0),
        "",
    )
    .of("year-built"),
    Possible::any(Dimension::Count, "number", (0.0, 10_000.0), ""),
];

/// The voltages that a circuit of a house can have; they are written as a label, `240`.
pub(crate) static VOLTS: Possible =
    Possible::any(Dimension::Voltage, "voltage in a house", (0.0, 1000.0), "V").above_least();

/// What is possible in a slot of `dimension` that follows `word`.
pub(crate) fn possible(word: &str, dimension: Dimension) -> Option<&'static Possible> {
    POSSIBLE
        .iter()
        .find(|row| row.dimension == dimension && row.word.is_none_or(|own| own == word))
}
