//! The farthest point where screens stand in a room: boxes are halved where a farther point may still be.

use super::mixing::{Farthest, Place, Screen, Zone, square};

impl Screen {
    /// Whether the way on plan from one point to another passes through it.
    fn hides(&self, from: [f64; 2], to: [f64; 2]) -> bool {
        let (mut start, mut end) = (0.0_f64, 1.0_f64);
        for (((a, b), low), high) in from.iter().zip(to).zip(self.low).zip(self.high) {
            let step = b - a;
            if step.abs() < 1e-12 {
                if *a <= low || *a >= high {
                    return false;
                }
            } else {
                let (one, other) = ((low - a) / step, (high - a) / step);
                start = start.max(one.min(other));
                end = end.min(one.max(other));
            }
        }
        end - start > 1e-9
    }

    fn touches(&self, at: [f64; 2]) -> bool {
        at.iter()
            .zip(self.low)
            .zip(self.high)
            .all(|((x, low), high)| low <= *x && *x <= high)
    }

    /// Whether nobody stays at a place on plan because of it.
    pub(super) fn takes(&self, at: [f64; 2]) -> bool {
        at.iter()
            .zip(self.low)
            .zip(self.high)
            .all(|((x, low), high)| low - self.off < *x && *x < high + self.off)
    }

    /// Whether no way from `from` to anywhere in the cell passes through it: some line parts them.
    fn leaves_free(&self, from: [f64; 2], low: [f64; 2], high: [f64; 2]) -> bool {
        let corners = |low: [f64; 2], high: [f64; 2]| {
            let ([a, b], [c, d]) = (low, high);
            [[a, b], [c, b], [a, d], [c, d]]
        };
        let cell = corners(low, high);
        let own = corners(self.low, self.high);
        let [fx, fy] = from;
        let lines = cell.map(|[x, y]| [y - fy, fx - x]);
        lines
            .into_iter()
            .chain([[1.0, 0.0], [0.0, 1.0]])
            .any(|[nx, ny]| {
                let along = |points: &[[f64; 2]]| {
                    points
                        .iter()
                        .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), [x, y]| {
                            let t = nx * x + ny * y;
                            (a.min(t), b.max(t))
                        })
                };
                let (a, b) = along(&own);
                let (c, d) = along(&cell);
                let f = nx * fx + ny * fy;
                b <= c.min(f) || d.max(f) <= a
            })
    }
}

const fn plan(place: Place) -> [f64; 2] {
    let [x, y, _] = place;
    [x, y]
}

/// Halves the zone where a farther point may still be.
pub(super) struct Search<'a> {
    zone: Zone,
    outlets: &'a [Place],
    screens: &'a [Screen],
    /// Screens that matter to each outlet: not those it sits in.
    before: Vec<Vec<Screen>>,
    smallest: f64,
}

impl<'a> Search<'a> {
    /// Prepares the search: which screens matter to which outlet, and whether height matters.
    pub(super) fn new(zone: Zone, outlets: &'a [Place], screens: &'a [Screen]) -> Self {
        let ([.., bottom], [.., top]) = (zone.low, zone.high);
        let mut zone = zone;
        let all = |test: &dyn Fn(f64) -> bool| outlets.iter().all(|[.., z]| test(*z));
        // From above, the floor is farthest; from below, the top.
        if all(&|z| z >= top) {
            let [x, y, _] = zone.high;
            zone.high = [x, y, bottom];
        } else if all(&|z| z <= bottom) {
            let [x, y, _] = zone.low;
            zone.low = [x, y, top];
        }
        let ([.., low], [.., high]) = (zone.low, zone.high);
        let before = outlets
            .iter()
            .map(|outlet| {
                let apart = |screen: &&Screen| !screen.touches(plan(*outlet));
                screens.iter().filter(apart).copied().collect()
            })
            .collect();
        Self {
            zone,
            outlets,
            screens,
            before,
            smallest: if high > low { 2.0 } else { 0.25 },
        }
    }

    /// The distance to the nearest outlet in sight of a place.
    pub(super) fn seen(&self, place: Place) -> Option<f64> {
        self.outlets
            .iter()
            .zip(&self.before)
            .filter(|(outlet, screens)| {
                !screens
                    .iter()
                    .any(|screen| screen.hides(plan(**outlet), plan(place)))
            })
            .map(|(outlet, _)| square(place, *outlet))
            .min_by(f64::total_cmp)
            .map(f64::sqrt)
    }

    /// The farthest that any point of the cell can be from an outlet that all of the cell sees.
    fn bound(&self, cell: Zone) -> f64 {
        self.outlets
            .iter()
            .zip(&self.before)
            .filter(|(outlet, screens)| {
                screens.iter().all(|screen| {
                    screen.leaves_free(plan(**outlet), plan(cell.low), plan(cell.high))
                })
            })
            .map(|(outlet, _)| {
                let mut corner = cell.low;
                for (((x, low), high), at) in
                    corner.iter_mut().zip(cell.low).zip(cell.high).zip(outlet)
                {
                    *x = if (low - at).abs() > (high - at).abs() {
                        low
                    } else {
                        high
                    };
                }
                square(corner, *outlet).sqrt()
            })
            .fold(f64::INFINITY, f64::min)
    }

    /// The farthest point.
    pub(super) fn run(self) -> Option<Farthest> {
        let mut best: Option<Farthest> = None;
        let mut cells = vec![self.zone];
        while let Some(cell) = cells.pop() {
            let taken = self
                .screens
                .iter()
                .any(|screen| screen.takes(plan(cell.low)) && screen.takes(plan(cell.high)));
            if taken {
                continue;
            }
            let bound = self.bound(cell);
            let far = best.and_then(|best| best.distance).unwrap_or(-1.0);
            if bound <= far {
                continue;
            }
            let (mut middle, mut longest, mut across) = (cell.low, 0, -1.0);
            for (axis, ((x, low), high)) in
                middle.iter_mut().zip(cell.low).zip(cell.high).enumerate()
            {
                *x = f64::midpoint(low, high);
                if high - low > across {
                    (longest, across) = (axis, high - low);
                }
            }
            let occupied = !self.screens.iter().any(|screen| screen.takes(plan(middle)));
            let seen = self.seen(middle);
            if occupied {
                match seen {
                    None => {
                        return Some(Farthest {
                            place: middle,
                            distance: None,
                            within: 0.0,
                        });
                    }
                    Some(distance) if distance > far => {
                        best = Some(Farthest {
                            place: middle,
                            distance: Some(distance),
                            within: 0.0,
                        });
                    }
                    Some(_) => {}
                }
            }
            if across <= self.smallest {
                // Part of the cell is free, or it would have been left out.
                if bound.is_finite() {
                    let distance = seen.map_or(bound, |seen| bound.max(seen));
                    best = Some(Farthest {
                        place: middle,
                        distance: Some(distance),
                        within: square(cell.low, cell.high).sqrt(),
                    });
                }
                continue;
            }
            let (mut low_half, mut high_half) = (cell, cell);
            let at = middle.get(longest).copied().unwrap_or(0.0);
            if let (Some(a), Some(b)) = (
                low_half.high.get_mut(longest),
                high_half.low.get_mut(longest),
            ) {
                (*a, *b) = (at, at);
            }
            cells.push(high_half);
            cells.push(low_half);
        }
        best
    }
}
