//! Heat and moisture that a cooling coil takes out of air, from the states before and after it.

use super::psychrometrics::{MoistAir, NoSuchAir};
use super::water::{ATMOSPHERE, Water};
use crate::quantity::{AirFlow, HeatFlow, MassFlow, Temperature, WaterFlow};

/// At which density a flow of air is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FlowBasis {
    /// Actual cubic feet at the entering state.
    Entering,
    /// Standard air, 0.075 lb of dry air per ft³.
    Standard,
}

/// What leaves the air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilDuty {
    /// Dry air through the coil.
    pub dry_air: MassFlow,
    /// Water taken out.
    pub moisture: MassFlow,
    /// The same by volume at 60 °F.
    pub condensate: WaterFlow,
    /// From the fall of dry bulb.
    pub sensible: HeatFlow,
    /// From the water taken out.
    pub latent: HeatFlow,
    /// Both.
    pub total: HeatFlow,
    /// Carried off by the condensate, drained at the leaving dry bulb.
    pub condensate_heat: HeatFlow,
    /// Total less what the condensate carries off: what the refrigerant or water takes up.
    pub net_total: HeatFlow,
}

/// Balance over dry air: moisture m (W₁ − W₂); latent m (h(t₁,W₁) − h(t₁,W₂)); sensible m (h(t₁,W₂) − h(t₂,W₂)).
///
/// Source: ASHRAE Handbook—Fundamentals, Psychrometrics, cooling and dehumidifying of moist air.
pub fn coil_duty(
    entering: &MoistAir,
    leaving: &MoistAir,
    flow: AirFlow,
    basis: FlowBasis,
) -> Result<CoilDuty, NoSuchAir> {
    let per_hour = flow.value() * 60.0;
    let dry_air = match basis {
        FlowBasis::Entering => per_hour / entering.specific_volume().value(),
        FlowBasis::Standard => per_hour * 0.075,
    };
    let between = MoistAir::from_humidity_ratio(
        entering.dry_bulb(),
        leaving.humidity_ratio(),
        entering.pressure(),
    )?;
    let enthalpy = |air: &MoistAir| air.enthalpy().value();
    let moisture = dry_air * (entering.humidity_ratio().value() - leaving.humidity_ratio().value());
    let latent = dry_air * (enthalpy(entering) - enthalpy(&between));
    let sensible = dry_air * (enthalpy(&between) - enthalpy(leaving));
    let carried = moisture * (leaving.dry_bulb().value() - 32.0);
    let gallons = moisture / pounds_per_gallon();
    Ok(CoilDuty {
        dry_air: MassFlow::new(dry_air),
        moisture: MassFlow::new(moisture),
        condensate: WaterFlow::new(gallons / 60.0),
        sensible: HeatFlow::new(sensible),
        latent: HeatFlow::new(latent),
        total: HeatFlow::new(sensible + latent),
        condensate_heat: HeatFlow::new(carried),
        net_total: HeatFlow::new(sensible + latent - carried),
    })
}

/// Weight of a US gallon (231 in³) of water at 60 °F.
fn pounds_per_gallon() -> f64 {
    Water::at(Temperature::new(60.0), ATMOSPHERE)
        .map_or(8.337, |water| water.density.value() * 231.0 / 1728.0)
}
