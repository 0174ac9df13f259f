//! Potentials in a network of resistances between the two sides of one source: Kirchhoff's and Ohm's laws, solved by
//! elimination with pivoting.

/// A resistance between two points, ohms; points at no resistance are one point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Resistance {
    /// Its two points.
    pub ends: [usize; 2],
    /// Ohms, above zero.
    pub ohms: f64,
}

/// The potential of each of `points` points against `cold`, with `volts` between `hot` and `cold`; none for a point
/// that no resistance joins to the source, and for all when the two sides are one point.
pub fn potentials(
    points: usize,
    resistances: &[Resistance],
    [hot, cold]: [usize; 2],
    volts: f64,
) -> Vec<Option<f64>> {
    let mut out = vec![None; points];
    if hot == cold {
        return out;
    }
    // Only what hangs together with the source has a potential.
    let mut reached = vec![false; points];
    for start in [hot, cold] {
        let mut waiting = vec![start];
        while let Some(point) = waiting.pop() {
            match reached.get_mut(point) {
                Some(slot) if !*slot => *slot = true,
                _ => continue,
            }
            for resistance in resistances {
                let [one, other] = resistance.ends;
                if one == point {
                    waiting.push(other);
                } else if other == point {
                    waiting.push(one);
                }
            }
        }
    }
    let free: Vec<usize> = (0..points)
        .filter(|n| reached.get(*n) == Some(&true) && *n != hot && *n != cold)
        .collect();
    let row_of = |point: usize| free.iter().position(|free| *free == point);
    let size = free.len();
    let mut matrix = vec![vec![0.0_f64; size + 1]; size];
    for resistance in resistances {
        let [one, other] = resistance.ends;
        let conductance = 1.0 / resistance.ohms;
        for (here, there) in [(one, other), (other, one)] {
            let Some(row) = row_of(here) else { continue };
            let column = row_of(there);
            let Some(line) = matrix.get_mut(row) else {
                continue;
            };
            if let Some(own) = line.get_mut(row) {
                *own += conductance;
            }
            let (slot, by) = match column {
                Some(column) => (column, -conductance),
                None if there == hot => (size, conductance * volts),
                None => continue,
            };
            if let Some(cell) = line.get_mut(slot) {
                *cell += by;
            }
        }
    }
    let solved = eliminate(matrix);
    for (place, point) in free.iter().enumerate() {
        if let Some(slot) = out.get_mut(*point) {
            *slot = solved.get(place).copied();
        }
    }
    for (point, potential) in [(hot, volts), (cold, 0.0)] {
        if let Some(slot) = out.get_mut(point) {
            *slot = Some(potential);
        }
    }
    out
}

/// Solves the rows `a | b`; a row without a pivot gives zero.
fn eliminate(mut rows: Vec<Vec<f64>>) -> Vec<f64> {
    let size = rows.len();
    let cell = |rows: &[Vec<f64>], row: usize, column: usize| {
        rows.get(row)
            .and_then(|row| row.get(column))
            .copied()
            .unwrap_or(0.0)
    };
    for pivot in 0..size {
        let best = (pivot..size)
            .max_by(|a, b| {
                let at = |row: usize| cell(&rows, row, pivot).abs();
                at(*a).total_cmp(&at(*b))
            })
            .unwrap_or(pivot);
        rows.swap(pivot, best);
        let top = cell(&rows, pivot, pivot);
        if top == 0.0 {
            continue;
        }
        let (above, below) = rows.split_at_mut(pivot + 1);
        let Some(line) = above.last() else { continue };
        for row in below {
            let factor = row.get(pivot).copied().unwrap_or(0.0) / top;
            if factor != 0.0 {
                for (slot, by) in row.iter_mut().zip(line).skip(pivot) {
                    *slot -= factor * by;
                }
            }
        }
    }
    let mut out = vec![0.0; size];
    for row in (0..size).rev() {
        let known: f64 = (row + 1..size)
            .map(|column| cell(&rows, row, column) * out.get(column).copied().unwrap_or(0.0))
            .sum();
        let own = cell(&rows, row, row);
        if let Some(slot) = out.get_mut(row).filter(|_| own != 0.0) {
            *slot = (cell(&rows, row, size) - known) / own;
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(found: Option<f64>, wanted: f64) {
        assert!((found.unwrap() - wanted).abs() < 1e-9, "{found:?} {wanted}");
    }

    #[test]
    fn a_divider_divides() {
        let ends = |a, b, ohms| Resistance { ends: [a, b], ohms };
        let found = potentials(4, &[ends(0, 2, 1.0), ends(2, 1, 3.0)], [0, 1], 24.0);
        near(found[2], 18.0);
        assert_eq!(found[3], None);
    }

    #[test]
    fn a_bridge_out_of_balance_agrees_with_its_loop_equations() {
        // 0 hot, 1 cold, 2 and 3 the middles: 10 and 20 on one side, 30 and 15 on the other, 5 across.
        let ends = |a, b, ohms| Resistance { ends: [a, b], ohms };
        let all = [
            ends(0, 2, 10.0),
            ends(2, 1, 20.0),
            ends(0, 3, 30.0),
            ends(3, 1, 15.0),
            ends(2, 3, 5.0),
        ];
        let found = potentials(4, &all, [0, 1], 24.0);
        let (left, right) = (found[2].unwrap(), found[3].unwrap());
        // What flows into each middle leaves it again.
        assert!(((24.0 - left) / 10.0 - left / 20.0 - (left - right) / 5.0).abs() < 1e-12);
        assert!(((24.0 - right) / 30.0 - right / 15.0 + (left - right) / 5.0).abs() < 1e-12);
        // Cramer's rule by hand: 0.35 x - 0.2 y = 2.4 and -0.2 x + 0.3 y = 0.8.
        near(found[2], (2.4 * 0.3 + 0.2 * 0.8) / (0.35 * 0.3 - 0.04));
        near(found[3], (0.35 * 0.8 + 0.2 * 2.4) / (0.35 * 0.3 - 0.04));
    }

    #[test]
    fn a_short_and_an_island_have_no_potential() {
        let one = [Resistance {
            ends: [2, 3],
            ohms: 1.0,
        }];
        assert_eq!(potentials(4, &one, [0, 0], 24.0), vec![None; 4]);
        assert_eq!(potentials(4, &one, [0, 1], 24.0)[2], None);
    }
}
