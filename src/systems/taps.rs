//! The speed taps for which figures are wanted.

use crate::catalog::{Stated, Tap};
use crate::model::AirHandler;
use crate::quantity::AirFlow;

use super::Purpose;

/// The most air that a tap moves by its sheet, cfm.
fn most(tap: &Tap) -> f64 {
    let held = tap.holds.as_ref().and_then(Stated::get);
    let points = tap.points.iter().flatten().filter_map(Stated::get);
    points
        .map(|point| point.flow.value())
        .chain(held.map(AirFlow::value))
        .fold(0.0, f64::max)
}

/// All taps to print a job; to judge it the set one, and the next that moves less, which may do as well.
pub(super) fn wanted(unit: &AirHandler, purpose: Purpose) -> Vec<&str> {
    let taps = &unit.sheet.blower.taps;
    if purpose == Purpose::Printing {
        return taps.keys().map(String::as_str).collect();
    }
    let Some((set, own)) = unit
        .tap
        .as_ref()
        .and_then(|set| Some((set.value.as_str(), most(taps.get(&set.value)?))))
    else {
        return Vec::new();
    };
    let below = taps
        .iter()
        .map(|(name, tap)| (name.as_str(), most(tap)))
        .filter(|(_, flow)| *flow < own)
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(name, _)| name);
    taps.keys()
        .map(String::as_str)
        .filter(|name| *name == set || below == Some(*name))
        .collect()
}
