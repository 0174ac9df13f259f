//! Lengths are exact, and what is written can be read again.

use bayrun::quantity::{Dimension, Length, Slope, length_text, read_all, trade_length};
use proptest::prelude::*;

proptest! {
    #[test]
    fn sixty_fourths_read_back_exactly(n in -2_000_000_i64..2_000_000) {
        let length = Length::from_nm(396_875 * n);
        let read = read_all(&trade_length(length), Dimension::Length).unwrap().length().unwrap();
        prop_assert_eq!(read, length);
    }

    #[test]
    fn any_length_shown_is_within_half_a_thousandth_of_an_inch(nm in -10_000_000_000_i64..10_000_000_000) {
        let length = Length::from_nm(nm);
        let read = read_all(&length_text(length), Dimension::Length).unwrap().length().unwrap();
        prop_assert!((read - length).abs() <= Length::from_nm(12_700));
    }

    #[test]
    fn sums_do_not_depend_on_the_order(parts in prop::collection::vec(-100_000_i64..100_000, 1..200)) {
        let forward: Length = parts.iter().map(|n| Length::sixteenths(*n)).sum();
        let backward: Length = parts.iter().rev().map(|n| Length::sixteenths(*n)).sum();
        prop_assert_eq!(forward, backward);
        prop_assert_eq!(forward, Length::sixteenths(parts.iter().sum()));
    }

    #[test]
    fn feet_and_inches_agree_with_millimetres(feet in 0_i64..500, sixteenths in 0_i64..192) {
        let trade = read_all(&format!("{feet} ft {}/16 in", sixteenths), Dimension::Length).unwrap().length().unwrap();
        let metric = read_all(&format!("{:.4} mm", (feet * 192 + sixteenths) as f64 * 25.4 / 16.0), Dimension::Length);
        let metric = metric.unwrap().length().unwrap();
        prop_assert!((trade - metric).abs() <= Length::from_nm(50));
    }

    #[test]
    fn the_fall_a_slope_asks_for_passes_and_a_nanometre_less_fails(
        sixteenths in 1_i64..32,
        run in 1_i64..100_000,
    ) {
        let need = Slope::sixteenths_per_foot(sixteenths);
        let run = Length::sixteenths(run);
        let fall = need.fall_over(run);
        prop_assert!(Slope::of(fall, run).unwrap() >= need);
        prop_assert!(Slope::of(fall - Length::from_nm(1), run).unwrap() < need);
    }

    #[test]
    fn reading_never_panics(text in "\\PC{0,40}") {
        for dimension in [Dimension::Length, Dimension::Slope, Dimension::Temperature, Dimension::Count] {
            let _ = read_all(&text, dimension);
        }
    }
}
