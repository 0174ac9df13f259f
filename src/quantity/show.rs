//! Writes amounts for people: fractions of an inch, and numbers with as many digits as tell two apart.

use super::{Dimension, Length, Slope};
use crate::source::{Scalar, Shown};

/// A number with at most `digits` after the point, without trailing zeros.
pub fn number_text(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    let text = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        &text
    };
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

/// Inches with a fraction to the nearest 1/`parts` (`2 1/4`), without the unit.
pub fn fraction_inches(length: Length, parts: i64) -> String {
    let step = Length::INCH.nm() / parts;
    let sign = if length < Length::ZERO { "-" } else { "" };
    let total = (length.abs().nm() + step / 2) / step;
    let (whole, mut over) = (total / parts, total % parts);
    let mut under = parts;
    while over != 0 && over % 2 == 0 && under % 2 == 0 {
        over /= 2;
        under /= 2;
    }
    match (whole, over) {
        (0, 0) => "0".to_owned(),
        (whole, 0) => format!("{sign}{whole}"),
        (0, _) => format!("{sign}{over}/{under}"),
        _ => format!("{sign}{whole} {over}/{under}"),
    }
}

/// A length as the trade writes it: `12 ft 6 1/4 in`, inches alone below two feet; to a sixteenth, finer when exact.
pub fn trade_length(length: Length) -> String {
    let fine = Length::INCH.nm() / 64;
    let parts = if length.nm() % (fine * 4) == 0 || length.nm() % fine != 0 {
        16
    } else {
        64
    };
    let step = Length::INCH.nm() / parts;
    let rounded = Length::from_nm((length.abs().nm() + step / 2) / step * step);
    let sign = if length < Length::ZERO { "-" } else { "" };
    if rounded < Length::feet(2) {
        return format!("{sign}{} in", fraction_inches(rounded, parts));
    }
    let feet = rounded.nm() / Length::FOOT.nm();
    let rest = Length::from_nm(rounded.nm() % Length::FOOT.nm());
    if rest == Length::ZERO {
        format!("{sign}{feet} ft")
    } else {
        format!("{sign}{feet} ft {} in", fraction_inches(rest, parts))
    }
}

/// As [`trade_length`], in decimals of an inch when the sixteenth would hide a difference.
pub fn length_text(length: Length) -> String {
    if length.nm() % (Length::INCH.nm() / 64) == 0 {
        trade_length(length)
    } else {
        format!("{} in", number_text(length.to_inches(), 3))
    }
}

/// A length for a report.
pub fn show_length(length: Length) -> Shown {
    Shown {
        value: Scalar::Number(length.to_inches()),
        unit: Dimension::Length.unit(),
        text: length_text(length),
    }
}

/// Found and needed lengths, as the trade writes them; in decimals of an inch when that would hide the difference.
pub fn show_length_pair(found: Length, needed: Length) -> (Shown, Shown) {
    let same = trade_length(found) == trade_length(needed) && found != needed;
    let mut digits = 3;
    let decimals = |length: Length, digits| number_text(length.to_inches(), digits);
    while same && digits < 8 && decimals(found, digits) == decimals(needed, digits) {
        digits += 1;
    }
    let shown = |length: Length| Shown {
        value: Scalar::Number(length.to_inches()),
        unit: Dimension::Length.unit(),
        text: if same {
            format!("{} in", decimals(length, digits))
        } else {
            trade_length(length)
        },
    };
    (shown(found), shown(needed))
}

/// A slope for a report: `1/8 in per ft` when it is a whole sixty-fourth, else in decimals that do not hide the rest.
pub fn show_slope(slope: Slope) -> Shown {
    let per_foot = slope.fall_over(Length::FOOT);
    let exact = Slope::of(per_foot, Length::FOOT)
        .is_some_and(|rounded| rounded.partial_cmp(&slope) == Some(std::cmp::Ordering::Equal));
    let value = slope.in_per_ft();
    let text = if exact && per_foot.nm() % (Length::INCH.nm() / 64) == 0 {
        fraction_inches(per_foot, 64)
    } else {
        let nearest = libm::round(value * 64.0) / 64.0;
        let mut digits = 3;
        while digits < 9 && number_text(value, digits) == number_text(nearest, digits) {
            digits += 1;
        }
        number_text(value, digits)
    };
    Shown {
        value: Scalar::Number(value),
        unit: Dimension::Slope.unit(),
        text: format!("{text} in per ft"),
    }
}

fn digits_for(value: f64) -> usize {
    match value.abs() {
        v if v >= 100.0 => 0,
        v if v >= 10.0 => 1,
        v if v >= 1.0 => 2,
        _ => 3,
    }
}

fn with_unit(number: String, dimension: Dimension) -> String {
    match dimension.printed() {
        Some(unit) => format!("{number} {unit}"),
        None => number,
    }
}

/// A number in the canonical unit of `dimension`, for a report.
pub fn show_real(value: f64, dimension: Dimension) -> Shown {
    Shown {
        value: Scalar::Number(value),
        unit: dimension.unit(),
        text: with_unit(number_text(value, digits_for(value)), dimension),
    }
}

/// Found and needed in one unit, with digits added until they differ (nine at most).
pub fn show_pair(found: f64, needed: f64, dimension: Dimension) -> (Shown, Shown) {
    let mut digits = digits_for(found).min(digits_for(needed));
    let differ = found.to_bits() != needed.to_bits();
    while digits < 9 && differ && number_text(found, digits) == number_text(needed, digits) {
        digits += 1;
    }
    let shown = |value: f64| Shown {
        value: Scalar::Number(value),
        unit: dimension.unit(),
        text: with_unit(number_text(value, digits), dimension),
    };
    (shown(found), shown(needed))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_read_as_the_trade_writes_them() {
        assert_eq!(trade_length(Length::inches(150)), "12 ft 6 in");
        assert_eq!(trade_length(Length::sixteenths(36)), "2 1/4 in");
        assert_eq!(
            trade_length(Length::sixteenths(12 * 16 * 5 + 3)),
            "5 ft 3/16 in"
        );
        assert_eq!(trade_length(Length::inches(18)), "18 in");
        assert_eq!(trade_length(Length::from_nm(396_875 * 65)), "1 1/64 in");
        assert_eq!(trade_length(Length::feet(2) - Length::from_nm(1)), "2 ft");
    }

    #[test]
    fn lengths_that_look_alike_gain_digits() {
        let foot = Length::FOOT;
        let (a, b) = show_length_pair(foot - Length::from_nm(100), foot);
        assert_ne!(a.text, b.text);
        let (a, b) = show_length_pair(Length::nearest(200.13), foot);
        assert_eq!(
            (a.text.as_str(), b.text.as_str()),
            ("16 ft 8 1/8 in", "12 in")
        );
    }

    #[test]
    fn slopes_read_as_the_trade_writes_them() {
        let slope = |fall, run| show_slope(Slope::of(fall, run).unwrap()).text;
        assert_eq!(
            slope(Length::sixteenths(36), Length::feet(9)),
            "1/4 in per ft"
        );
        assert_eq!(slope(Length::INCH, Length::feet(9)), "0.111 in per ft");
        assert_eq!(slope(Length::ZERO, Length::feet(9)), "0 in per ft");
        let hair = Length::sixteenths(18) - Length::from_nm(100);
        assert_ne!(slope(hair, Length::feet(9)), "0.125 in per ft");
    }

    #[test]
    fn digits_grow_until_two_values_differ() {
        let (a, b) = show_pair(1.2004, 1.2001, Dimension::Pressure);
        assert_ne!(a.text, b.text);
    }
}
