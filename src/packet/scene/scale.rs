//! From distances of the house to points on paper, at a scale that a rule has.

use crate::figures::Figure;
use crate::quantity::{Length, fraction_inches};

/// Points in an inch.
const POINTS: f64 = 72.0;

/// How much of an inch on paper stands for one foot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Scale {
    foot: Length,
}

impl Scale {
    /// In sixty-fourths of an inch to the foot, largest first: the scales of an architect's rule, then halves of the last.
    const STEPS: [i64; 14] = [192, 96, 64, 48, 32, 24, 16, 12, 8, 6, 4, 3, 2, 1];

    /// The largest scale at which `wide` by `high` fits into that many points.
    pub fn fit(wide: Length, high: Length, width: f64, height: f64) -> Self {
        let fits = |scale: &Self| scale.points(wide) <= width && scale.points(high) <= height;
        let sixty_fourth = Length::from_nm(Length::INCH.nm() / 64);
        let all = Self::STEPS.map(|step| Self {
            foot: sixty_fourth * step,
        });
        let last = Self { foot: sixty_fourth };
        all.into_iter().find(fits).unwrap_or(last)
    }

    /// The points on paper that stand for `length`.
    pub fn points(self, length: Length) -> f64 {
        length.to_feet() * self.foot.to_inches() * POINTS
    }

    /// The scale in words, as a figure (`1/4 in = 1 ft`).
    pub fn figure(self, id: impl Into<String>) -> Figure {
        Figure::text(id, format!("{} in = 1 ft", fraction_inches(self.foot, 64)))
            .formula("the largest scale of a rule at which the drawing fits its page")
            .source("common practice")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_largest_scale_that_fits_is_taken() {
        // 40 ft on 500 points (6.94 in): 1/8 in a foot takes 5 in, 3/16 in takes 7.5 in.
        let scale = Scale::fit(Length::feet(40), Length::feet(10), 500.0, 500.0);
        assert_eq!(scale.figure("s").shown().text, "1/8 in = 1 ft");
        assert!((scale.points(Length::feet(40)) - 360.0).abs() < 1e-9);
        let exact = Scale::fit(Length::feet(40), Length::ZERO, 360.0, 1.0);
        assert_eq!(exact, scale);
        let less = Scale::fit(Length::feet(40), Length::ZERO, 359.9, 1.0);
        assert_eq!(less.figure("s").shown().text, "3/32 in = 1 ft");
    }
}
