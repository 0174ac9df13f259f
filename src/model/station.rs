//! Places along a trunk that keep their distance from given stations.

use crate::quantity::Length;

/// The station nearest to `wanted`, between the trunk's start and `end`, that keeps each distance of `keep`
/// (station, least distance); to a sixteenth of an inch, never nearer than asked. None when no place is left.
pub fn nearest_clear(wanted: Length, end: Length, keep: &[(Length, Length)]) -> Option<Length> {
    let step = Length::sixteenths(1);
    let clear = |at: Length| {
        Length::ZERO <= at
            && at <= end
            && keep
                .iter()
                .all(|(station, least)| (*station - at).abs() >= *least)
    };
    keep.iter()
        .flat_map(|(station, least)| {
            [
                (*station - *least).round_down_to(step),
                (*station + *least).round_up_to(step),
            ]
        })
        .chain([wanted])
        .filter(|at| clear(*at))
        .min_by_key(|at| ((*at - wanted).abs(), *at))
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn inches(n: i64) -> Length {
        Length::inches(n)
    }

    #[test]
    fn the_nearest_place_keeps_every_distance_and_exactly_at_it_passes() {
        let keep = [
            (Length::ZERO, inches(18)),
            (inches(60), inches(18)),
            (inches(100), inches(18)),
        ];
        let at = |wanted| nearest_clear(wanted, inches(100), &keep);
        assert_eq!(at(inches(50)), Some(inches(42)));
        assert_eq!(at(inches(18)), Some(inches(18)));
        assert_eq!(at(inches(2)), Some(inches(18)));
        assert_eq!(at(inches(79)), Some(inches(79)));
        assert_eq!(at(inches(90)), Some(inches(82)));
        assert_eq!(
            nearest_clear(inches(5), inches(30), &keep[..1]),
            Some(inches(18))
        );
        assert_eq!(nearest_clear(inches(5), inches(17), &keep[..1]), None);
    }

    #[test]
    fn metric_distances_round_away_from_the_fitting() {
        let keep = [(Length::ZERO, Length::MILLIMETRE * 457)];
        let at = nearest_clear(inches(3), inches(100), &keep).unwrap();
        assert!(at >= Length::MILLIMETRE * 457 && at.nm() % Length::sixteenths(1).nm() == 0);
    }
}
