//! Numbers as they are written, held exactly.

use crate::quantity::Length;

/// A number kept as a fraction as long as it can be.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rational {
    pub(super) over: i64,
    pub(super) under: i64,
}

impl Rational {
    pub(super) fn real(self) -> f64 {
        self.over as f64 / self.under as f64
    }

    /// Nanometres of `unit_nm` each, rounded to the nearest.
    pub(super) fn times_nm(self, unit_nm: i64) -> Option<Length> {
        let product = i128::from(self.over).checked_mul(i128::from(unit_nm))?;
        let under = i128::from(self.under);
        let nm = (product * 2 + under).div_euclid(under * 2);
        let length = Length::from_nm(i64::try_from(nm).ok()?);
        (length.abs() <= Length::LIMIT).then_some(length)
    }

    pub(super) fn plus(self, other: Self) -> Option<Self> {
        let over = self
            .over
            .checked_mul(other.under)?
            .checked_add(other.over.checked_mul(self.under)?)?;
        Some(Self {
            over,
            under: self.under.checked_mul(other.under)?,
        })
    }
}

pub(super) fn vulgar(c: char) -> Option<Rational> {
    let (over, under) = match c {
        '½' => (1, 2),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    };
    Some(Rational { over, under })
}

/// `12`, `12.5`, `.5`, `7/8`, `2-1/4`, `2½`, with a sign or without.
pub(super) fn number(text: &str) -> Result<Rational, &'static str> {
    const BAD: &str = "this is not a number";
    const LARGE: &str = "this number is too large";
    let (negative, body) = match text.strip_prefix(['-', '−']) {
        Some(rest) => (true, rest),
        None => (false, text),
    };
    let sign = |r: Rational| {
        if negative {
            Rational { over: -r.over, ..r }
        } else {
            r
        }
    };
    if let Some(last) = body.chars().last()
        && let Some(part) = vulgar(last)
    {
        let whole = body.strip_suffix(last).unwrap_or("").trim();
        let whole = if whole.is_empty() {
            Rational { over: 0, under: 1 }
        } else {
            number(whole)?
        };
        return whole.plus(part).map(sign).ok_or(LARGE);
    }
    if let Some((whole, part)) = body.split_once('-') {
        return number(whole)?.plus(number(part)?).map(sign).ok_or(LARGE);
    }
    if let Some((over, under)) = body.split_once('/') {
        let (over, under): (i64, i64) = (
            over.parse().map_err(|_| BAD)?,
            under.parse().map_err(|_| BAD)?,
        );
        if under <= 0 {
            return Err("a fraction over nothing is no number");
        }
        if over > 1_000_000_000 || under > 1_000_000 {
            return Err(LARGE);
        }
        return Ok(sign(Rational { over, under }));
    }
    let (whole, decimals) = body.split_once('.').unwrap_or((body, ""));
    if whole.len() + decimals.len() > 15 {
        return Err(LARGE);
    }
    let digits = || whole.bytes().chain(decimals.bytes());
    if digits().next().is_none() || !digits().all(|digit| digit.is_ascii_digit()) {
        return Err(BAD);
    }
    // Fifteen digits at most: no overflow.
    let over = digits().fold(0_i64, |over, digit| over * 10 + i64::from(digit - b'0'));
    let under = (0..decimals.len())
        .try_fold(1_i64, |p, _| p.checked_mul(10))
        .ok_or(LARGE)?;
    Ok(sign(Rational { over, under }))
}
