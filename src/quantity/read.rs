//! Reads amounts the way the trade writes them: `12 ft 6 in`, `2 1/4 in`, `1/4 in per ft`, `12'6"`.
//!
//! Works on pieces (numbers, words, marks), so that the language, the catalog and `calc` share one reader.

mod rational;

use rational::{Rational, number, vulgar};

use super::unit::UNITS;
use super::{Dimension, Length, Slope, Unit, unit_named};

/// What shape a piece of text has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PieceKind {
    /// Digits, a decimal, a fraction, or a whole with a fraction (`2-1/4`).
    Number,
    /// Letters, with `/`, digits, `%` or a mark inside; or a prime.
    Word,
    /// Anything else.
    Mark,
}

/// A piece of text with its place in what is being read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Piece<'a> {
    /// The words.
    pub text: &'a str,
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
    /// Its shape.
    pub kind: PieceKind,
}

/// An exact length, or a number in the canonical unit of the quantity's dimension.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Amount {
    /// A length, exact.
    Length(Length),
    /// A slope, exact.
    Slope(Slope),
    /// Any other amount.
    Real(f64),
}

/// An amount with its dimension and, when measured, its tolerance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// What it measures.
    pub dimension: Dimension,
    /// How much.
    pub amount: Amount,
    /// `± 1 in`, in the same dimension.
    pub tolerance: Option<Length>,
}

impl Quantity {
    /// The number in the canonical unit (inches for lengths).
    pub fn real(&self) -> f64 {
        match self.amount {
            Amount::Length(length) => length.to_inches(),
            Amount::Slope(slope) => slope.in_per_ft(),
            Amount::Real(value) => value,
        }
    }

    /// The exact length, if it is one.
    pub const fn length(&self) -> Option<Length> {
        match self.amount {
            Amount::Length(length) => Some(length),
            _ => None,
        }
    }

    /// The exact slope, if it is one.
    pub const fn slope(&self) -> Option<Slope> {
        match self.amount {
            Amount::Slope(slope) => Some(slope),
            _ => None,
        }
    }
}

/// Why pieces are not the amount that was wanted. Ranges are byte offsets into the text read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum QuantityError {
    /// No number stands here.
    NoNumber,
    /// A number without a unit.
    NoUnit {
        /// The number.
        range: (usize, usize),
    },
    /// A unit that is not known.
    UnknownUnit {
        /// The unit.
        range: (usize, usize),
        /// The nearest known one of the wanted dimension.
        nearest: Option<&'static str>,
    },
    /// Another dimension than wanted.
    Dimension {
        /// The amount.
        range: (usize, usize),
        /// What was read.
        found: Dimension,
    },
    /// A number too large, a fraction over zero, or inches of a foot and more after feet.
    Number {
        /// The number.
        range: (usize, usize),
        /// What is wrong with it.
        what: &'static str,
    },
}

/// One number, taking `2 1/4` and `2 ½` as one; the pieces used and the end.
fn mixed(pieces: &[Piece<'_>]) -> Result<(Rational, usize), QuantityError> {
    let Some(first) = pieces.first().filter(|p| p.kind == PieceKind::Number) else {
        return Err(QuantityError::NoNumber);
    };
    let range = (first.start, first.end);
    let value = number(first.text).map_err(|what| QuantityError::Number { range, what })?;
    let whole =
        first.text.bytes().all(|b| b.is_ascii_digit() || b == b'-') && !first.text.contains('/');
    if let Some(second) = pieces
        .get(1)
        .filter(|p| whole && p.kind == PieceKind::Number)
        && (second.text.contains('/') && !second.text.contains('-')
            || second.text.chars().count() == 1 && second.text.chars().all(|c| vulgar(c).is_some()))
    {
        let range = (first.start, second.end);
        let part = number(second.text).map_err(|what| QuantityError::Number { range, what })?;
        let part = if value.over < 0 {
            Rational {
                over: -part.over,
                ..part
            }
        } else {
            part
        };
        let what = "this number is too large";
        return value
            .plus(part)
            .map(|v| (v, 2))
            .ok_or(QuantityError::Number { range, what });
    }
    Ok((value, 1))
}

/// The unit at the front of `pieces` and how many pieces it takes.
fn unit_at(pieces: &[Piece<'_>]) -> Option<(&'static Unit, usize)> {
    let first = pieces.first()?;
    match first.text {
        "'" | "′" | "’" | "‘" => return unit_named("ft").map(|u| (u, 1)),
        "\"" | "″" | "”" | "“" => return unit_named("in").map(|u| (u, 1)),
        "%" if pieces
            .get(1)
            .is_some_and(|p| p.text.eq_ignore_ascii_case("RH")) =>
        {
            return unit_named("%RH").map(|u| (u, 2));
        }
        _ => {}
    }
    if first.kind != PieceKind::Word {
        return None;
    }
    // `72 sq in`, as areas are spoken.
    if let ("sq", Some(second)) = (first.text, pieces.get(1)) {
        return unit_named(&format!("sq{}", second.text)).map(|u| (u, 2));
    }
    unit_named(first.text).map(|u| (u, 1))
}

fn nearest_unit(word: &str, wanted: Dimension) -> Option<&'static str> {
    UNITS
        .iter()
        .filter(|unit| unit.fits(wanted))
        .map(|unit| {
            (
                strsim::osa_distance(&unit.name.to_lowercase(), &word.to_lowercase()),
                unit.name,
            )
        })
        .filter(|(distance, _)| *distance <= 2)
        .min()
        .map(|(_, name)| name)
}

fn tolerance(pieces: &[Piece<'_>]) -> Option<(Length, usize)> {
    let first = pieces.first()?;
    if !matches!(first.text, "±" | "+/-") {
        return None;
    }
    let (quantity, used) = read_pieces(pieces.get(1..)?, Dimension::Length).ok()?;
    Some((quantity.length()?, 1 + used))
}

/// Reads one amount of `wanted` from the front of `pieces`; gives it and how many pieces it took.
///
/// # Errors
/// Says which piece does not fit and why.
pub fn read_pieces(
    pieces: &[Piece<'_>],
    wanted: Dimension,
) -> Result<(Quantity, usize), QuantityError> {
    let (value, mut used) = mixed(pieces)?;
    let start = pieces.first().map_or(0, |p| p.start);
    let end_at = |used: usize| pieces.get(used.saturating_sub(1)).map_or(start, |p| p.end);
    let number_range = (start, end_at(used));
    if wanted == Dimension::Count {
        if let Some((unit, n)) = pieces.get(used..).and_then(unit_at)
            && pieces
                .get(used)
                .is_some_and(|p| p.kind == PieceKind::Word && p.text != "in")
        {
            return Err(QuantityError::Dimension {
                range: (start, end_at(used + n)),
                found: unit.dimension,
            });
        }
        let amount = Amount::Real(value.real());
        return Ok((
            Quantity {
                dimension: wanted,
                amount,
                tolerance: None,
            },
            used,
        ));
    }
    let Some((unit, n)) = pieces.get(used..).and_then(unit_at) else {
        return Err(match pieces.get(used) {
            Some(piece) if piece.kind == PieceKind::Word => QuantityError::UnknownUnit {
                range: (piece.start, piece.end),
                nearest: nearest_unit(piece.text, wanted),
            },
            _ => QuantityError::NoUnit {
                range: number_range,
            },
        });
    };
    used += n;
    let large = QuantityError::Number {
        range: number_range,
        what: "this number is too large",
    };
    if unit.dimension == Dimension::Length {
        #[expect(
            clippy::cast_possible_truncation,
            reason = "the factors of lengths are whole and small"
        )]
        let mut length = value.times_nm(unit.factor as i64).ok_or(large.clone())?;
        // Inches after feet: `12 ft 6 in`.
        if unit.name == "ft"
            && let Ok((inches, n)) = mixed(pieces.get(used..).unwrap_or(&[]))
            && let Some((second, m)) = pieces.get(used + n..).and_then(unit_at)
            && second.name == "in"
        {
            let part = inches.times_nm(Length::INCH.nm()).ok_or(large.clone())?;
            if part >= Length::FOOT || part < Length::ZERO {
                let range = (
                    pieces.get(used).map_or(start, |p| p.start),
                    end_at(used + n + m),
                );
                return Err(QuantityError::Number {
                    range,
                    what: "inches after feet stay below 12",
                });
            }
            length = if value.over < 0 {
                length - part
            } else {
                length + part
            };
            used += n + m;
        }
        if pieces.get(used).is_some_and(|p| p.text == "per")
            && let Some((below, n)) = pieces.get(used + 1..).and_then(unit_at)
            && below.dimension == Dimension::Length
        {
            used += 1 + n;
            if wanted != Dimension::Slope {
                return Err(QuantityError::Dimension {
                    range: (start, end_at(used)),
                    found: Dimension::Slope,
                });
            }
            #[expect(
                clippy::cast_possible_truncation,
                reason = "the factors of lengths are whole and small"
            )]
            let run = Length::from_nm(below.factor as i64);
            let slope = Slope::of(length, run).ok_or(large)?;
            return Ok((
                Quantity {
                    dimension: Dimension::Slope,
                    amount: Amount::Slope(slope),
                    tolerance: None,
                },
                used,
            ));
        }
        if wanted != Dimension::Length {
            return Err(QuantityError::Dimension {
                range: (start, end_at(used)),
                found: Dimension::Length,
            });
        }
        let mut quantity = Quantity {
            dimension: wanted,
            amount: Amount::Length(length),
            tolerance: None,
        };
        if let Some((plus_minus, n)) = pieces.get(used..).and_then(tolerance) {
            quantity.tolerance = Some(plus_minus);
            used += n;
        }
        return Ok((quantity, used));
    }
    let Some((factor, offset)) = unit.crosses(wanted) else {
        return Err(QuantityError::Dimension {
            range: (start, end_at(used)),
            found: unit.dimension,
        });
    };
    let real = value.real() * factor + offset;
    if !real.is_finite() || real.abs() > 1e12 {
        return Err(large);
    }
    let amount = if wanted == Dimension::Slope {
        let slope = Slope::of(Length::nearest(real), Length::FOOT).ok_or(large)?;
        Amount::Slope(slope)
    } else {
        Amount::Real(real)
    };
    Ok((
        Quantity {
            dimension: wanted,
            amount,
            tolerance: None,
        },
        used,
    ))
}

/// Cuts a bare string (catalog value, `calc` argument) into pieces.
pub fn pieces(text: &str) -> Vec<Piece<'_>> {
    let mut out = Vec::new();
    let mut chars = text.char_indices().peekable();
    let digitish = |c: char| c.is_ascii_digit() || c == '.' || c == '/' || vulgar(c).is_some();
    while let Some((start, c)) = chars.next() {
        if c.is_whitespace() {
            continue;
        }
        let next_is_digit = chars
            .peek()
            .is_some_and(|(_, n)| n.is_ascii_digit() || *n == '.');
        let (kind, more): (PieceKind, fn(char, bool) -> bool) = if c.is_ascii_digit()
            || vulgar(c).is_some()
            || matches!(c, '-' | '−' | '.') && next_is_digit
        {
            (PieceKind::Number, |n, digit| digit || n == '-')
        } else if c.is_alphabetic() || c == '%' || c == '°' || c == '+' {
            (PieceKind::Word, |n, _| {
                n.is_alphanumeric() || matches!(n, '/' | '^' | '%' | '³' | '²' | '-')
            })
        } else {
            (PieceKind::Mark, |_, _| false)
        };
        let mut end = start + c.len_utf8();
        while let Some((at, n)) = chars.peek().copied() {
            if !more(n, digitish(n)) {
                break;
            }
            end = at + n.len_utf8();
            chars.next();
        }
        out.push(Piece {
            text: text.get(start..end).unwrap_or(""),
            start,
            end,
            kind,
        });
    }
    out
}

/// Reads all of `text` as one amount of `wanted`.
///
/// # Errors
/// As [`read_pieces`]; words left over are an unknown unit.
pub fn read_all(text: &str, wanted: Dimension) -> Result<Quantity, QuantityError> {
    let pieces = pieces(text);
    let (quantity, used) = read_pieces(&pieces, wanted)?;
    match pieces.get(used) {
        None => Ok(quantity),
        Some(rest) => Err(QuantityError::UnknownUnit {
            range: (rest.start, text.len()),
            nearest: None,
        }),
    }
}

#[cfg(test)]
mod tests;
