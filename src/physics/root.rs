//! Roots inside a bracket: no start to guess, no step that can leave the range.

/// Where `above` turns from false to true between `low` and `high`, to the last bit that counts (`width`).
///
/// With more than one turn it finds the one that halving meets; the answer is the same on every run.
pub(super) fn halve(low: f64, high: f64, width: f64, above: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (low, high);
    let mut middle = f64::midpoint(low, high);
    while high - low > width && low < middle && middle < high {
        if above(middle) {
            high = middle;
        } else {
            low = middle;
        }
        middle = f64::midpoint(low, high);
    }
    middle
}

/// Where `height` turns from 0 or less to more than 0 between `low` and `high`, to `width`.
///
/// As [`halve`], but where the heights show a smooth way it goes by them: a fifth of the steps, and never more
/// than one beyond those of halving. A height that is no number, or none that ends, is halved past.
/// Source: Oliveira and Takahashi, ACM Transactions on Mathematical Software 47 (2020), article 5 (interpolate,
/// truncate, project).
pub(super) fn cross(low: f64, high: f64, width: f64, height: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (low, high);
    let (mut below, mut above) = (height(low), height(high));
    if below > 0.0 {
        return low;
    }
    if above.is_nan() || above <= 0.0 {
        return high;
    }
    // How far from the middle a step may land, so that halving is never overtaken by more than one step.
    let mut reach = width;
    while reach < high - low {
        reach *= 2.0;
    }
    let pull = 0.2 / (high - low);
    loop {
        let span = high - low;
        let middle = f64::midpoint(low, high);
        if span <= width || middle <= low || middle >= high {
            return middle;
        }
        let straight = (above * low - below * high) / (above - below);
        let toward = if straight < middle { 1.0 } else { -1.0 };
        let nudge = (pull * span * span).max(0.25 * width);
        let kept = if nudge <= (middle - straight).abs() {
            straight + toward * nudge
        } else {
            middle
        };
        let slack = (reach - 0.5 * span).max(0.0);
        let at = if (kept - middle).abs() <= slack {
            kept
        } else {
            middle - toward * slack
        };
        // Also where a height was no number, or infinite.
        let at = if at > low && at < high { at } else { middle };
        let found = height(at);
        if found > 0.0 {
            (high, above) = (at, found);
        } else {
            (low, below) = (at, found);
        }
        reach *= 0.5;
    }
}

#[cfg(test)]
mod tests {
    use std::cell::Cell;

    use super::*;

    /// A height, and the bracket it is looked at in.
    type Curve = (fn(f64) -> f64, f64, f64);

    #[test]
    fn crosses_where_halving_does_in_fewer_steps() {
        let steps = Cell::new(0);
        let curves: [Curve; 6] = [
            (|x| x * x - 2.0, 0.0, 2.0),
            (|x| libm::exp(0.02 * x) - 1.5, -100.0, 100.0),
            // So steep that going by the heights helps little.
            (|x| libm::exp(x) - 40.0, -100.0, 100.0),
            (|x| x * x * x, -1.0, 3.0),
            // A jump, and a wall that is no number on one side and endless on the other.
            (|x| if x < 0.3 { -1e-9 } else { 1e9 }, 0.0, 1.0),
            (
                |x| {
                    if x < 0.7 {
                        f64::NEG_INFINITY
                    } else if x < 0.8 {
                        x - 0.75
                    } else {
                        f64::INFINITY
                    }
                },
                0.0,
                1.0,
            ),
        ];
        for (at, (curve, low, high)) in curves.into_iter().enumerate() {
            steps.set(0);
            let crossed = cross(low, high, 1e-11, |x| {
                steps.set(steps.get() + 1);
                curve(x)
            });
            let halved = halve(low, high, 1e-11, |x| curve(x) > 0.0);
            assert!((crossed - halved).abs() < 2e-11, "{at}: {crossed} {halved}");
            assert!(steps.get() <= 49, "{at}: {}", steps.get());
            if at < 2 {
                assert!(steps.get() < 20, "{at}: {}", steps.get());
            }
        }
        assert!((cross(0.0, 2.0, 1e-9, |_| -1.0) - 2.0).abs() < 1e-8);
        assert!(cross(0.0, 2.0, 1e-9, |_| 1.0).abs() < 1e-8);
        assert!(cross(0.0, 2.0, 1e-9, |_| f64::NAN).is_finite());
    }

    #[test]
    fn finds_a_root_and_keeps_to_the_ends() {
        assert!((halve(0.0, 2.0, 1e-14, |x| x * x > 2.0) - 2.0_f64.sqrt()).abs() < 1e-13);
        assert!((halve(0.0, 2.0, 1e-14, |_| false) - 2.0).abs() < 1e-13);
        assert!(halve(0.0, 2.0, 1e-14, |_| true).abs() < 1e-13);
    }
}
