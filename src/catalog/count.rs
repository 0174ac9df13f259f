//! Figures without a unit: counts, factors, prices.

use schemars::{Schema, json_schema};

use super::misread::Misread;
use super::stated::Readable;

/// A count, written without a unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Count(pub u32);

impl Readable for Count {
    fn parse(text: &str) -> Result<Self, Misread> {
        text.trim().parse().map(Self).map_err(|_| Misread::Form {
            range: (0, text.len()),
            wanted: "a count is a whole number from zero",
            example: "4",
        })
    }

    fn name() -> String {
        "count".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({ "type": "integer", "minimum": 0 })
    }
}

/// A bare figure without a unit: a loss coefficient, a factor. Not below zero.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Factor(pub f64);

impl Readable for Factor {
    fn parse(text: &str) -> Result<Self, Misread> {
        text.trim()
            .parse::<f64>()
            .ok()
            .filter(|n| n.is_finite() && *n >= 0.0 && *n < 1e9)
            .map(Self)
            .ok_or(Misread::Form {
                range: (0, text.len()),
                wanted: "a factor is a number from zero, without a unit",
                example: "0.35",
            })
    }

    fn name() -> String {
        "factor".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({ "type": "number", "minimum": 0 })
    }
}

/// A price in whole cents: `$12.40`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Price(pub i64);

impl Price {
    /// `12.40`, without the sign of the currency.
    pub fn text(self) -> String {
        format!("{}.{:02}", self.0 / 100, self.0 % 100)
    }
}

impl Readable for Price {
    fn parse(text: &str) -> Result<Self, Misread> {
        let bad = || Misread::Form {
            range: (0, text.len()),
            wanted: "a price is dollars with two decimals or none",
            example: "$12.40",
        };
        let body = text.trim().strip_prefix('$').ok_or_else(bad)?.trim();
        let (dollars, cents) = body.split_once('.').unwrap_or((body, "00"));
        let digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
        if dollars.is_empty() || dollars.len() > 9 || cents.len() != 2 {
            return Err(bad());
        }
        if !digits(dollars) || !digits(cents) {
            return Err(bad());
        }
        let number = |s: &str| s.parse::<i64>().map_err(|_| bad());
        Ok(Self(number(dollars)? * 100 + number(cents)?))
    }

    fn name() -> String {
        "price".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({ "type": "string", "title": "price", "pattern": "^\\$ ?[0-9]{1,9}(\\.[0-9]{2})?$", "examples": ["$12.40"] })
    }
}
