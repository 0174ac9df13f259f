//! Splits the room that fittings leave in a leg into pieces of stock.

use crate::quantity::Length;

/// What one split needs to know.
#[derive(Clone, Copy, Debug)]
pub(super) struct Split {
    /// Longest piece that the stock gives.
    pub(super) stock: Length,
    /// What a joint between two pieces adds along the leg; below zero where they overlap.
    pub(super) joint: Length,
    /// Shortest piece worth making; the one before it is cut shorter in its stead.
    pub(super) least: Length,
}

impl Split {
    /// Lengths that with the joints between them make up `room` exactly.
    pub(super) fn pieces(self, room: Length) -> Vec<Length> {
        let mut pieces = Vec::new();
        let mut rest = room;
        // A joint that eats the whole stock could never be finished.
        let sound = self.stock + self.joint > Length::ZERO && self.least < self.stock;
        while sound && rest > self.stock {
            let left = rest - self.stock - self.joint;
            let short = (self.least - left).max(Length::ZERO);
            let piece = self.stock - short;
            if piece + self.joint <= Length::ZERO {
                break;
            }
            pieces.push(piece);
            rest = rest - piece - self.joint;
        }
        pieces.push(rest);
        pieces
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn full_lengths_first_then_the_rest() {
        // 14 ft 6 in of pipe from 10 ft stock with couplings that hold the ends 1/8 in apart.
        let split = Split {
            stock: Length::feet(10),
            joint: Length::sixteenths(2),
            least: Length::inches(3),
        };
        let rest = Length::inches(54) - Length::sixteenths(2);
        assert_eq!(split.pieces(Length::inches(174)), [Length::feet(10), rest]);
        // One inch over a stock length would leave a stump: the first piece gives way.
        let pieces = split.pieces(Length::feet(10) + Length::INCH);
        assert_eq!(pieces[1], Length::inches(3));
    }

    proptest! {
        #[test]
        fn pieces_and_joints_make_up_the_room(
            room in 1_i64..200_000_000_000,
            stock in 400_000_000_i64..4_000_000_000,
            joint in -40_000_000_i64..40_000_000,
            least in 0_i64..200_000_000,
        ) {
            let split = Split {
                stock: Length::from_nm(stock),
                joint: Length::from_nm(joint),
                least: Length::from_nm(least),
            };
            let pieces = split.pieces(Length::from_nm(room));
            let joints = i64::try_from(pieces.len()).unwrap() - 1;
            let sum: Length = pieces.iter().copied().sum();
            prop_assert_eq!(sum + split.joint * joints, Length::from_nm(room));
            prop_assert!(pieces.iter().all(|piece| *piece <= split.stock && *piece > Length::ZERO));
        }
    }
}
