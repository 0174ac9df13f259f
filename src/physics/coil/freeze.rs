//! The flow at which a coil's surface would reach a temperature at which water on it freezes.

use super::super::psychrometrics::MoistAir;
use super::super::root::cross;
use super::table::CapacityTable;
use super::working::{STANDARD, working};
use crate::quantity::{MassFlow, Temperature};

/// The flow of dry air at which a coil's surface reaches a temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FreezeFlow {
    /// At this flow; below it the surface is colder.
    At(MassFlow),
    /// Not even at a tenth of the table's least airflow.
    Never,
    /// Even at twice the table's greatest airflow.
    Always,
    /// The coil's line does not meet saturation where it is looked for.
    NoSurface,
}

/// Where less and less air brings a coil's surface down to `temperature`.
pub fn freeze_flow(
    table: &CapacityTable,
    entering: &MoistAir,
    outdoor: Temperature,
    temperature: Temperature,
) -> FreezeFlow {
    let surface = |m: f64| {
        let state = working(table, entering, MassFlow::new(m), outdoor).ok()?;
        state.surface.map(Temperature::value)
    };
    // A state that can't be is colder than any that is looked for.
    let warmer =
        |m: f64| surface(m).map_or(f64::NEG_INFINITY, |surface| surface - temperature.value());
    let (least, most) = table.airflows();
    let (low, high) = (
        0.1 * STANDARD * least.value(),
        2.0 * STANDARD * most.value(),
    );
    match surface(high) {
        None => return FreezeFlow::NoSurface,
        Some(warmest) if warmest <= temperature.value() => return FreezeFlow::Always,
        Some(_) => {}
    }
    if warmer(low) > 0.0 {
        return FreezeFlow::Never;
    }
    let m = cross(low, high, 1e-3, warmer);
    // A gap in the table's own figures may hide the crossing.
    match surface(m) {
        Some(found) if (found - temperature.value()).abs() < 0.05 => {
            FreezeFlow::At(MassFlow::new(m))
        }
        _ => FreezeFlow::NoSurface,
    }
}
