//! Exact lengths and slopes: a sixteenth is a sixteenth.

use std::cmp::Ordering;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// A distance in whole nanometres: 1/64 in = 396 875 nm and 1 mm are both exact.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Length(i64);

impl Length {
    /// No distance.
    pub const ZERO: Self = Self(0);
    /// One inch.
    pub const INCH: Self = Self(25_400_000);
    /// One foot.
    pub const FOOT: Self = Self(304_800_000);
    /// One millimetre.
    pub const MILLIMETRE: Self = Self(1_000_000);
    /// The longest distance that a spec may speak of, 10 km: sums of thousands stay exact.
    pub const LIMIT: Self = Self(10_000_000_000_000);

    /// From whole nanometres.
    pub const fn from_nm(nm: i64) -> Self {
        Self(nm)
    }

    /// In whole nanometres.
    pub const fn nm(self) -> i64 {
        self.0
    }

    /// Whole inches.
    pub const fn inches(n: i64) -> Self {
        Self(n.saturating_mul(Self::INCH.0))
    }

    /// Whole feet.
    pub const fn feet(n: i64) -> Self {
        Self(n.saturating_mul(Self::FOOT.0))
    }

    /// Sixteenths of an inch.
    pub const fn sixteenths(n: i64) -> Self {
        Self(n.saturating_mul(Self::INCH.0 / 16))
    }

    /// The nearest length to a number of inches: the one place where a computed distance is rounded.
    pub fn nearest(inches: f64) -> Self {
        let nm = inches * Self::INCH.0 as f64;
        if nm.is_finite() {
            #[expect(
                clippy::cast_possible_truncation,
                reason = "bounded by the clamp just before"
            )]
            let whole = libm::round(nm.clamp(-1e18, 1e18)) as i64;
            Self(whole)
        } else {
            Self::ZERO
        }
    }

    /// Inches as a number, for physics and printing.
    pub fn to_inches(self) -> f64 {
        self.0 as f64 / Self::INCH.0 as f64
    }

    /// Feet as a number, for physics and printing.
    pub fn to_feet(self) -> f64 {
        self.0 as f64 / Self::FOOT.0 as f64
    }

    /// Without its sign.
    pub const fn abs(self) -> Self {
        Self(self.0.saturating_abs())
    }

    /// The smaller of two.
    pub fn min(self, other: Self) -> Self {
        Ord::min(self, other)
    }

    /// The larger of two.
    pub fn max(self, other: Self) -> Self {
        Ord::max(self, other)
    }

    /// Half of it, rounded to the nanometre.
    pub const fn half(self) -> Self {
        Self(self.0 / 2)
    }

    /// Up to the next multiple of `step`.
    pub const fn round_up_to(self, step: Self) -> Self {
        if step.0 <= 0 {
            return self;
        }
        let rest = self.0.rem_euclid(step.0);
        if rest == 0 {
            self
        } else {
            Self(self.0 - rest + step.0)
        }
    }

    /// Down to the multiple of `step` below.
    pub const fn round_down_to(self, step: Self) -> Self {
        if step.0 <= 0 {
            self
        } else {
            Self(self.0 - self.0.rem_euclid(step.0))
        }
    }

    /// The straight distance of three offsets, rounded once.
    pub fn diagonal(x: Self, y: Self, z: Self) -> Self {
        let (x, y, z) = (x.to_inches(), y.to_inches(), z.to_inches());
        Self::nearest((x * x + y * y + z * z).sqrt())
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        *self = *self - other;
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(self.0.saturating_neg())
    }
}

impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, n: i64) -> Self {
        Self(self.0.saturating_mul(n))
    }
}

impl Div<i64> for Length {
    type Output = Self;
    fn div(self, n: i64) -> Self {
        Self(self.0.checked_div(n).unwrap_or(0))
    }
}

impl std::iter::Sum for Length {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, Add::add)
    }
}

/// Fall over run, compared exactly: 1/8 in per ft on 9 ft is 9/8 in, no less.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Slope {
    /// The fall.
    pub fall: Length,
    /// The level distance it happens over; above zero.
    pub run: Length,
}

impl Slope {
    /// A fall over a run; none without a run.
    pub fn of(fall: Length, run: Length) -> Option<Self> {
        (run > Length::ZERO).then_some(Self { fall, run })
    }

    /// Sixteenths of an inch per foot.
    pub const fn sixteenths_per_foot(n: i64) -> Self {
        Self {
            fall: Length::sixteenths(n),
            run: Length::FOOT,
        }
    }

    /// Inches per foot as a number, for printing.
    pub fn in_per_ft(self) -> f64 {
        self.fall.to_inches() / self.run.to_feet()
    }

    /// The fall that this slope asks for over `run`, rounded up to the nanometre.
    pub fn fall_over(self, run: Length) -> Length {
        let product = i128::from(self.fall.nm()) * i128::from(run.nm());
        let below = i128::from(self.run.nm()).max(1);
        let up = product.div_euclid(below) + i128::from(product.rem_euclid(below) != 0);
        Length::from_nm(i64::try_from(up).unwrap_or(i64::MAX))
    }
}

impl PartialOrd for Slope {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        let left = i128::from(self.fall.nm()) * i128::from(other.run.nm());
        let right = i128::from(other.fall.nm()) * i128::from(self.run.nm());
        left.partial_cmp(&right)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sixty_fourths_add_up_without_drift() {
        let sixty_fourth = Length::from_nm(396_875);
        let sum: Length = std::iter::repeat_n(sixty_fourth, 64 * 12 * 1000).sum();
        assert_eq!(sum, Length::feet(1000));
    }

    #[test]
    fn slopes_compare_exactly() {
        let need = Slope::sixteenths_per_foot(2);
        let run = Length::feet(9);
        assert_eq!(need.fall_over(run), Length::sixteenths(18));
        let just = Slope::of(Length::sixteenths(18), run).unwrap();
        let less = Slope::of(Length::sixteenths(18) - Length::from_nm(1), run).unwrap();
        assert!(just >= need && less < need);
    }
}
