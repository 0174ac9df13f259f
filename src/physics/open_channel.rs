//! Water that runs part full down a round pipe: Manning's equation.
//!
//! Source: Manning's formula in US units, Q = 1.486/n · A · R^(2/3) · S^(1/2); the geometry of a circle's segment.

use crate::quantity::{Length, WaterFlow};

/// Manning's n of plastic pipe and drawn copper tube (handbooks give 0.009 to 0.011; from memory).
pub const SMOOTH_PIPE: f64 = 0.010;

/// US gallons a minute in one cubic foot a second.
const GPM_PER_CFS: f64 = 448.831_168_8;

/// Depth over bore at which a round pipe carries most: beyond it the wetted wall grows faster than the section.
pub const FULLEST: f64 = 0.938_2;

/// The water in a round pipe filled to a share of its bore.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// Area of the water, ft².
    pub area: f64,
    /// Wetted wall, ft.
    pub wetted: f64,
}

/// The section of water that stands `fill` (0 to 1) of the bore deep.
pub fn section(inside: Length, fill: f64) -> Section {
    let d = inside.to_feet();
    let angle = 2.0 * libm::acos(1.0 - 2.0 * fill.clamp(0.0, 1.0));
    Section {
        area: d * d / 8.0 * (angle - libm::sin(angle)),
        wetted: d * angle / 2.0,
    }
}

/// What a pipe carries filled to `fill` of its bore, at `slope` (ft per ft): nothing without fall.
pub fn capacity(inside: Length, slope: f64, roughness: f64, fill: f64) -> WaterFlow {
    let Section { area, wetted } = section(inside, fill);
    if wetted <= 0.0 || slope <= 0.0 {
        return WaterFlow::new(0.0);
    }
    let cfs = 1.486 / roughness * area * libm::pow(area / wetted, 2.0 / 3.0) * slope.sqrt();
    WaterFlow::new(cfs * GPM_PER_CFS)
}

/// How deep a flow runs, as a share of the bore; none when the pipe does not carry it.
pub fn depth(inside: Length, slope: f64, roughness: f64, flow: WaterFlow) -> Option<f64> {
    let carries = |fill: f64| capacity(inside, slope, roughness, fill).value();
    if flow.value() <= 0.0 {
        return Some(0.0);
    }
    if carries(FULLEST) < flow.value() {
        return None;
    }
    let (mut low, mut high) = (0.0, FULLEST);
    // Sixty halvings leave less than the last bit of a depth.
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if carries(middle) < flow.value() {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(high)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Partly full pipes, n constant: share of the full flow by depth, as handbooks of sewer design tabulate it.
    #[test]
    fn partly_full_flow_is_the_published_share_of_full_flow() {
        let pipe = Length::inches(8);
        let full = capacity(pipe, 0.01, 0.013, 1.0).value();
        for (fill, share) in [
            (0.1, 0.021),
            (0.2, 0.088),
            (0.3, 0.196),
            (0.4, 0.337),
            (0.5, 0.500),
            (0.6, 0.672),
            (0.7, 0.837),
            (0.8, 0.977),
            (0.9, 1.066),
            (0.95, 1.075),
        ] {
            let found = capacity(pipe, 0.01, 0.013, fill).value() / full;
            assert!((found - share).abs() < 0.0015, "{fill}: {found}");
        }
    }

    /// An 8 in sewer at 0.40 % with n 0.013 runs full at 2.2 ft/s: the least slope that sewer rules allow it.
    #[test]
    fn a_full_sewer_runs_as_fast_as_its_tables_say() {
        let pipe = Length::inches(8);
        let cfs = capacity(pipe, 0.004, 0.013, 1.0).value() / GPM_PER_CFS;
        let velocity = cfs / section(pipe, 1.0).area;
        assert!((velocity - 2.19).abs() < 0.02, "{velocity}");
    }

    /// The same segment summed in ten thousand slices.
    #[test]
    fn the_section_is_the_area_of_the_slices() {
        let (bore, fill) = (Length::nearest(0.824), 0.37);
        let radius = bore.to_feet() / 2.0;
        let steps = 10_000;
        let slice = fill * bore.to_feet() / f64::from(steps);
        let area: f64 = (0..steps)
            .map(|n| {
                let up = (f64::from(n) + 0.5) * slice - radius;
                2.0 * (radius * radius - up * up).sqrt() * slice
            })
            .sum();
        let found = section(bore, fill).area;
        assert!((found / area - 1.0).abs() < 1e-5, "{found} {area}");
    }

    #[test]
    fn depth_and_capacity_are_each_other_s_inverse() {
        let bore = Length::nearest(0.824);
        for fill in [0.02, 0.3, 0.5, 0.9] {
            let flow = capacity(bore, 0.0104, SMOOTH_PIPE, fill);
            let found = depth(bore, 0.0104, SMOOTH_PIPE, flow).unwrap();
            assert!((found - fill).abs() < 1e-9, "{found}");
        }
        let full = capacity(bore, 0.0104, SMOOTH_PIPE, FULLEST).value();
        assert_eq!(
            depth(bore, 0.0104, SMOOTH_PIPE, WaterFlow::new(full * 1.001)),
            None
        );
        assert_eq!(depth(bore, 0.0, SMOOTH_PIPE, WaterFlow::new(0.1)), None);
    }
}
