//! The point of a room's occupied zone that is farthest from its outlets, in line of sight.
//!
//! Without anything in the way the answer is exact: between outlets the distance squared grows convexly, so the
//! farthest point is a corner of the zone or a place equally far from two, three or four outlets. With a screen from
//! floor to ceiling it is found by halving boxes, and is at most [`Farthest::within`] too large.

use super::screened::Search;

/// A place in a room, inches east, north and up.
pub(super) type Place = [f64; 3];

/// A box of such places.
#[derive(Clone, Copy, Debug)]
pub(super) struct Zone {
    /// Smallest coordinates.
    pub(super) low: Place,
    /// Largest coordinates.
    pub(super) high: Place,
}

/// Something that stands from floor to ceiling, on plan, and how far from it nobody stays.
#[derive(Clone, Copy, Debug)]
pub(super) struct Screen {
    /// Smallest x and y.
    pub(super) low: [f64; 2],
    /// Largest x and y.
    pub(super) high: [f64; 2],
    /// The strip around it that is not occupied.
    pub(super) off: f64,
}

/// The farthest point.
#[derive(Clone, Copy, Debug)]
pub(super) struct Farthest {
    /// Where.
    pub(super) place: Place,
    /// Distance to the nearest outlet in sight; none when no outlet is in sight.
    pub(super) distance: Option<f64>,
    /// How much the distance may be too large.
    pub(super) within: f64,
}

/// The square of the distance of two places.
pub(super) fn square(a: Place, b: Place) -> f64 {
    let d = |i: usize| a.get(i).zip(b.get(i)).map_or(0.0, |(a, b)| a - b);
    d(0) * d(0) + d(1) * d(1) + d(2) * d(2)
}

/// The farthest point of `zone` from the nearest of `outlets` in sight; none without an outlet.
pub(super) fn farthest(zone: Zone, outlets: &[Place], screens: &[Screen]) -> Option<Farthest> {
    if outlets.is_empty() {
        None
    } else if screens.is_empty() {
        exact(zone, outlets)
    } else {
        Search::new(zone, outlets, screens).run()
    }
}

/// The nearest of `outlets`, as the crow flies.
pub(super) fn nearest(place: Place, outlets: &[Place]) -> Option<usize> {
    let far = |n: &usize| outlets.get(*n).map_or(f64::INFINITY, |o| square(place, *o));
    (0..outlets.len()).min_by(|a, b| far(a).total_cmp(&far(b)))
}

/// A plane `n · p = c`.
#[derive(Clone, Copy)]
struct Plane {
    n: Place,
    c: f64,
}

fn halfway(a: Place, b: Place) -> Plane {
    let [ax, ay, az] = a;
    let [bx, by, bz] = b;
    let dot = |p: Place| square(p, [0.0; 3]);
    Plane {
        n: [2.0 * (bx - ax), 2.0 * (by - ay), 2.0 * (bz - az)],
        c: dot(b) - dot(a),
    }
}

/// Where three planes meet, unless they are as good as parallel.
fn meet(planes: [Plane; 3]) -> Option<Place> {
    let [a, b, c] = planes;
    let det = |x: Place, y: Place, z: Place| {
        let ([x0, x1, x2], [y0, y1, y2], [z0, z1, z2]) = (x, y, z);
        x0 * (y1 * z2 - y2 * z1) - x1 * (y0 * z2 - y2 * z0) + x2 * (y0 * z1 - y1 * z0)
    };
    let size = |p: Place| square(p, [0.0; 3]).sqrt();
    let whole = det(a.n, b.n, c.n);
    if whole.abs() <= 1e-9 * size(a.n) * size(b.n) * size(c.n) {
        return None;
    }
    let swap = |i: usize| {
        let with = |p: Plane| {
            let mut n = p.n;
            if let Some(x) = n.get_mut(i) {
                *x = p.c;
            }
            n
        };
        det(with(a), with(b), with(c)) / whole
    };
    Some([swap(0), swap(1), swap(2)])
}

/// All triples of planes that a vertex can lie on.
fn exact(zone: Zone, outlets: &[Place]) -> Option<Farthest> {
    let faces: Vec<Plane> = (0..3)
        .flat_map(|axis| {
            let mut n = [0.0; 3];
            if let Some(x) = n.get_mut(axis) {
                *x = 1.0;
            }
            [zone.low, zone.high].map(|at| Plane {
                n,
                c: at.get(axis).copied().unwrap_or(0.0),
            })
        })
        .collect();
    let mut best: Option<Farthest> = None;
    let mut try_at = |place: Place| {
        let Some(place) = inside(zone, place) else {
            return;
        };
        let Some(nearest) = outlets
            .iter()
            .map(|o| square(place, *o))
            .min_by(f64::total_cmp)
        else {
            return;
        };
        let distance = nearest.sqrt();
        // Places that differ by a rounding are the same one.
        if best.is_none_or(|best| best.distance.is_some_and(|far| distance > far + 1e-9)) {
            best = Some(Farthest {
                place,
                distance: Some(distance),
                within: 0.0,
            });
        }
    };
    for (i, base) in outlets.iter().enumerate() {
        let mut planes = faces.clone();
        let rest = outlets.get(i + 1..).unwrap_or(&[]);
        planes.extend(rest.iter().map(|other| halfway(*base, *other)));
        for (n, a) in planes.iter().enumerate() {
            for (m, b) in planes.iter().enumerate().skip(n + 1) {
                for c in planes.iter().skip(m + 1) {
                    if let Some(place) = meet([*a, *b, *c]) {
                        try_at(place);
                    }
                }
            }
        }
    }
    best
}

/// The place, moved onto the zone when it is outside by a rounding only.
fn inside(zone: Zone, place: Place) -> Option<Place> {
    let mut out = place;
    for ((x, low), high) in out.iter_mut().zip(zone.low).zip(zone.high) {
        if *x < low - 1e-6 || *x > high + 1e-6 {
            return None;
        }
        *x = x.clamp(low, high);
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn zone(x: f64, y: f64) -> Zone {
        Zone {
            low: [12.0, 12.0, 0.0],
            high: [x - 12.0, y - 12.0, 72.0],
        }
    }

    /// Every point of a 2 in grid: never above the true value, and at most half a cell's diagonal below it.
    fn by_grid(zone: Zone, outlets: &[Place], screens: &[Screen]) -> Option<f64> {
        let search = Search::new(zone, outlets, screens);
        let mut far: f64 = 0.0;
        let steps = |axis: usize| {
            let (low, high) = (zone.low[axis], zone.high[axis]);
            let n = ((high - low) / 2.0).ceil().max(1.0);
            (0_u32..)
                .take_while(move |k| f64::from(*k) <= n)
                .map(move |k| low + (high - low) * f64::from(k) / n)
        };
        for x in steps(0) {
            for y in steps(1) {
                if screens.iter().any(|screen| screen.takes([x, y])) {
                    continue;
                }
                for z in steps(2) {
                    far = far.max(search.seen([x, y, z])?);
                }
            }
        }
        Some(far)
    }

    #[test]
    fn one_outlet_sees_its_farthest_corner_at_the_floor() {
        // 8 ft up and 9 ft by 12 ft away on plan: 17 ft exactly.
        let found = farthest(
            Zone {
                low: [0.0, 0.0, 0.0],
                high: [108.0, 144.0, 72.0],
            },
            &[[0.0, 0.0, 96.0]],
            &[],
        )
        .unwrap();
        assert_eq!(found.distance, Some(204.0));
        let corner = [108.0_f64, 144.0, 0.0];
        assert!(
            found
                .place
                .iter()
                .zip(corner)
                .all(|(a, b)| (a - b).abs() < 1e-9)
        );
    }

    #[test]
    fn between_two_outlets_the_middle_of_the_long_wall_is_farthest() {
        let found = farthest(
            zone(360.0, 84.0),
            &[[0.0, 42.0, 90.0], [360.0, 42.0, 90.0]],
            &[],
        )
        .unwrap();
        assert!(
            (found.distance.unwrap() - (180.0_f64 * 180.0 + 900.0 + 8100.0).sqrt()).abs() < 1e-9
        );
        assert!((found.place[0] - 180.0).abs() < 1e-9);
    }

    #[test]
    fn a_screen_across_the_whole_room_hides_what_lies_behind() {
        let screen = Screen {
            low: [100.0, -5.0],
            high: [104.0, 205.0],
            off: 12.0,
        };
        let found = farthest(zone(240.0, 200.0), &[[30.0, 100.0, 96.0]], &[screen]).unwrap();
        assert!(found.distance.is_none() && found.place[0] > 104.0);
        let two = [[30.0, 100.0, 96.0], [200.0, 100.0, 96.0]];
        assert!(
            farthest(zone(240.0, 200.0), &two, &[screen])
                .unwrap()
                .distance
                .is_some()
        );
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn the_exact_answer_and_a_fine_grid_agree(
            x in 60_u32..260, y in 60_u32..260,
            outlets in proptest::collection::vec((0.0..1.0_f64, 0.0..1.0_f64, 0_usize..3), 1..6),
        ) {
            let (x, y) = (f64::from(x), f64::from(y));
            let outlets: Vec<Place> = outlets
                .iter()
                .map(|(a, b, level)| [a * x, b * y, [96.0, 40.0, 0.0][*level]])
                .collect();
            let zone = zone(x, y);
            let exact = farthest(zone, &outlets, &[]).unwrap().distance.unwrap();
            let grid = by_grid(zone, &outlets, &[]).unwrap();
            prop_assert!(grid <= exact + 1e-6, "{grid} {exact}");
            prop_assert!(exact <= grid + 3.0_f64.sqrt() + 1e-6, "{grid} {exact}");
        }

        #[test]
        fn halving_and_the_exact_answer_agree_without_a_screen(
            x in 60_u32..260, y in 60_u32..260,
            outlets in proptest::collection::vec((0.0..1.0_f64, 0.0..1.0_f64), 1..5),
        ) {
            let (x, y) = (f64::from(x), f64::from(y));
            let outlets: Vec<Place> =
                outlets.iter().map(|(a, b)| [a * x, b * y, 96.0]).collect();
            let exact = farthest(zone(x, y), &outlets, &[]).unwrap().distance.unwrap();
            let halved = Search::new(zone(x, y), &outlets, &[]).run().unwrap();
            let found = halved.distance.unwrap();
            prop_assert!(exact <= found + 1e-6 && found <= exact + 0.4, "{found} {exact}");
        }

        #[test]
        fn behind_a_screen_halving_finds_what_a_grid_finds(
            outlets in proptest::collection::vec((0.0..1.0_f64, 0.0..1.0_f64), 1..4),
            at in (0.2..0.8_f64, 0.2..0.8_f64), size in (4.0..60.0_f64, 4.0..60.0_f64),
        ) {
            let (x, y) = (200.0, 160.0);
            let outlets: Vec<Place> =
                outlets.iter().map(|(a, b)| [a * x, b * y, 96.0]).collect();
            let low = [at.0 * x, at.1 * y];
            let screen = Screen { low, high: [low[0] + size.0, low[1] + size.1], off: 0.0 };
            let found = farthest(zone(x, y), &outlets, &[screen]).unwrap();
            // A shadow narrower than the smallest cell may hide what the grid just meets.
            let grid = by_grid(zone(x, y), &outlets, &[screen]);
            if let (Some(grid), Some(far)) = (grid, found.distance) {
                prop_assert!(grid <= far + 0.4, "{grid} {far}");
            }
        }
    }
}
