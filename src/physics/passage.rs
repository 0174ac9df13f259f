//! Whether a flat piece passes an opening, straight or turned in the plane of the opening.

use crate::quantity::Length;

fn sorted((a, b): (Length, Length)) -> (Length, Length) {
    (a.min(b), a.max(b))
}

/// The two smaller sides of a box, smaller first: the face that it is carried through an opening behind.
pub fn smallest_face(sides: [Length; 3]) -> (Length, Length) {
    let mut sides = sides;
    sides.sort_unstable();
    let [first, second, _] = sides;
    (first, second)
}

/// By how much an opening is larger than a piece held straight, in the direction that is tighter; below zero it is smaller.
pub fn spare(piece: (Length, Length), opening: (Length, Length)) -> Length {
    let ((q, p), (b, a)) = (sorted(piece), sorted(opening));
    (a - p).min(b - q)
}

/// Whether a rectangle passes a rectangular opening, turned any way in its plane.
///
/// A rectangle p × q (p ≥ q) goes into a × b (a ≥ b) when p ≤ a and q ≤ b; or when p > a, q ≤ b and
/// b ≥ (2 p q a + (p² − q²) √(p² + q² − a²)) / (p² + q²).
/// Source: W. B. Carver, "Solution to Problem E 1225", American Mathematical Monthly 64 (1957), from memory;
/// compared in the tests with turning the piece degree by degree.
pub fn passes(piece: (Length, Length), opening: (Length, Length)) -> bool {
    let ((q, p), (b, a)) = (sorted(piece), sorted(opening));
    if q > b {
        return false;
    }
    if p <= a {
        return true;
    }
    let [p, q, a, b] = [p, q, a, b].map(Length::to_inches);
    let (diagonal, rest) = (p * p + q * q, p * p + q * q - a * a);
    b + 1e-9 >= (2.0 * p * q * a + (p * p - q * q) * rest.max(0.0).sqrt()) / diagonal
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn sixteenths(a: i64, b: i64) -> (Length, Length) {
        (Length::sixteenths(a), Length::sixteenths(b))
    }

    #[test]
    fn a_straight_piece_passes_exactly_at_its_size() {
        assert!(passes(sixteenths(100, 60), sixteenths(60, 100)));
        assert!(!passes(sixteenths(100, 60), sixteenths(100, 59)));
        assert_eq!(
            spare(sixteenths(100, 60), sixteenths(58, 200)),
            Length::sixteenths(-2)
        );
    }

    #[test]
    fn a_thin_board_passes_along_the_diagonal() {
        // 3-4-5: a board without thickness as long as the diagonal.
        assert!(passes(sixteenths(5 * 16, 0), sixteenths(4 * 16, 3 * 16)));
        assert!(!passes(
            sixteenths(5 * 16 + 1, 0),
            sixteenths(4 * 16, 3 * 16)
        ));
        // 10 in by 1 in through 9 in: (180 + 99 √20) / 101 = 6.17 in across are needed.
        assert!(passes(sixteenths(160, 16), sixteenths(144, 99)));
        assert!(!passes(sixteenths(160, 16), sixteenths(144, 98)));
    }

    #[test]
    fn the_smaller_face_goes_first() {
        let inches = [27, 28, 19].map(Length::inches);
        assert_eq!(
            smallest_face(inches),
            (Length::inches(19), Length::inches(27))
        );
    }

    /// The least room left over at any of 3,600 angles; above zero it passes.
    fn by_turning((p, q): (f64, f64), (a, b): (f64, f64)) -> f64 {
        (0..=900)
            .map(|n| f64::from(n) * std::f64::consts::FRAC_PI_2 / 900.0)
            .map(|turn| {
                let (sin, cos) = (libm::sin(turn), libm::cos(turn));
                (a - p * cos - q * sin).min(b - p * sin - q * cos)
            })
            .fold(f64::NEG_INFINITY, f64::max)
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn the_criterion_and_turning_agree(p in 1_i64..600, q in 1_i64..600, a in 1_i64..600, b in 1_i64..600) {
            let real = |n: i64| n as f64 / 16.0;
            let left = by_turning((real(p), real(q)), (real(a), real(b)))
                .max(by_turning((real(p), real(q)), (real(b), real(a))));
            let found = passes(sixteenths(p, q), sixteenths(a, b));
            // A tenth of a degree moves an end of a 37 in piece by less than a sixteenth.
            if left >= 0.0 {
                prop_assert!(found);
            } else if left < -0.07 {
                prop_assert!(!found);
            }
        }
    }
}
