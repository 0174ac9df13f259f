//! What the words on a pipe's insulation say: `R-3`, or a thickness of closed-cell foam.

use crate::quantity::{Dimension, Length, read_all};

/// Conductivity of closed-cell pipe insulation near 100 °F, Btu·in/(h·ft²·°F): typical of ASTM C534, from memory.
const CLOSED_CELL: f64 = 0.27;

/// `R-3`, `R 3`, `R3.5`, `3 R` among the words.
fn r_value(words: &str) -> Option<f64> {
    let tokens: Vec<&str> = words.split_whitespace().collect();
    let number = |text: &str| {
        let text = text.trim_matches(|c: char| !(c.is_ascii_digit() || c == '.'));
        text.parse::<f64>().ok().filter(|value| *value >= 0.0)
    };
    tokens.iter().enumerate().find_map(|(n, token)| {
        let rest = token.strip_prefix(['R', 'r']);
        match rest {
            // A bare R stands beside its number.
            Some("" | "-") => {
                let after = tokens.get(n + 1).and_then(|next| number(next));
                let before = n.checked_sub(1).and_then(|n| number(tokens.get(n)?));
                after.or(before)
            }
            Some(rest) if rest.starts_with(|c: char| c == '-' || c.is_ascii_digit()) => {
                number(rest)
            }
            _ => None,
        }
    })
}

/// A thickness at the front of the words: `1/2 in closed cell`.
fn thickness(words: &str) -> Option<Length> {
    let end = words
        .match_indices("in")
        .map(|(at, _)| at)
        .chain(words.match_indices("mm").map(|(at, _)| at))
        .min()?
        + 2;
    read_all(words.get(..end)?, Dimension::Length)
        .ok()?
        .length()
}

/// The resistance that the words say, around a pipe of this outside diameter; none where they say none.
///
/// A thickness counts as r₂ ln(r₂/r₁)/k, the flat resistance that does the same at the outer face.
pub(super) fn resistance(words: &str, outside: Length) -> Option<f64> {
    if let Some(value) = r_value(words) {
        return Some(value);
    }
    let thick = thickness(words)?.to_inches();
    let inner = outside.to_inches() / 2.0;
    if inner <= 0.0 || thick < 0.0 {
        return None;
    }
    let outer = inner + thick;
    Some(outer * libm::log(outer / inner) / CLOSED_CELL)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_on_insulation_are_understood_as_the_trade_writes_them() {
        let pipe = Length::nearest(0.875);
        for words in ["R-3", "R3", "R 3", "3 R", "r-3 wrap", "foam, R-3"] {
            assert_eq!(resistance(words, pipe), Some(3.0), "{words}");
        }
        assert_eq!(resistance("R-4.2", pipe), Some(4.2));
        assert_eq!(resistance("grey foam", pipe), None);
        assert_eq!(resistance("rubber", pipe), None);
        // 0.4375 in radius, half an inch: 0.9375 × ln(2.1429) ÷ 0.27.
        let half = resistance("1/2 in closed cell", pipe).unwrap();
        assert!((half - 2.646).abs() < 0.001, "{half}");
        assert!(resistance("3/4 in closed cell", pipe).unwrap() > 3.0);
        assert!(resistance("13 mm", pipe).unwrap() > 2.6);
    }
}
