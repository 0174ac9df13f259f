//! Roots by halving a bracket: no start to guess, no step that can leave the range.

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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_a_root_and_keeps_to_the_ends() {
        assert!((halve(0.0, 2.0, 1e-14, |x| x * x > 2.0) - 2.0_f64.sqrt()).abs() < 1e-13);
        assert!((halve(0.0, 2.0, 1e-14, |_| false) - 2.0).abs() < 1e-13);
        assert!(halve(0.0, 2.0, 1e-14, |_| true).abs() < 1e-13);
    }
}
