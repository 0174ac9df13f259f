//! Hydrostatics of the condensate trap of a cabinet under suction or pressure.
//!
//! The outlet drop is the height of the pan's outlet above the trap's weir; the seal is the depth of
//! the dip below that weir, to the top of the water's way. Both legs have one bore.

use super::water::{ATMOSPHERE, Water};
use crate::quantity::{Density, Head, Length, Pressure, Temperature};

/// Density at which one inch of water is a conventional inch: 1000 kg/m³.
const CONVENTIONAL: Density = Density::new(1000.0 * 0.028_316_846_592 / 0.453_592_37);

/// Drop below the pan's outlet that practice leaves when the cabinet is under pressure (common practice).
const DROP_UNDER_PRESSURE: Head = Head::new(0.5);

/// What the static pressure of a cabinet asks of its trap.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Need {
    suction: bool,
    /// The cabinet's static pressure as a height of water at its temperature, without sign.
    pub water_column: Head,
    /// The pan floods unless the outlet drop is more than this; nothing when under pressure.
    pub outlet_drop: Head,
    /// Air passes the trap when its seal is less than this: at start-up under suction, running under pressure.
    pub seal: Head,
}

/// A trap as drawn or built.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Seal {
    /// The pan's outlet above the weir.
    pub outlet_drop: Length,
    /// The dip below the weir.
    pub seal: Length,
}

/// A trap with the margin of practice.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Practice {
    /// The pan's outlet above the weir.
    pub outlet_drop: Head,
    /// The dip below the weir.
    pub seal: Head,
}

/// Where the water stands, measured up from the weir.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Levels {
    /// Inlet leg while running.
    pub running_inlet: Head,
    /// Inlet leg at start-up with a full trap and no flow.
    pub startup_inlet: Head,
    /// How far the outlet leg falls at start-up.
    pub startup_outlet_fall: Head,
}

/// What a trap needs at `cabinet` static pressure (suction below zero) with water at `water`.
///
/// Source: level balance of two legs of one bore. Under suction p the running inlet leg stands p above
/// the weir, and at start-up each leg moves by p/2; under pressure the inlet leg stands p below the weir.
/// None when the water would not be liquid.
pub fn need(cabinet: Pressure, water: Temperature) -> Option<Need> {
    let density = Water::at(water, ATMOSPHERE)?.density;
    let column = Head::new(cabinet.value().abs() * (CONVENTIONAL / density));
    let suction = cabinet.value() < 0.0;
    Some(Need {
        suction,
        water_column: column,
        outlet_drop: if suction { column } else { Head::new(0.0) },
        seal: if suction { column / 2.0 } else { column },
    })
}

impl Need {
    /// A trap that keeps `margin` in hand: suction + margin with half of that as seal;
    /// under pressure 1/2 in of drop and pressure + margin as seal (common practice).
    pub fn practice(&self, margin: Head) -> Practice {
        let reach = self.water_column + margin;
        if self.suction {
            Practice {
                outlet_drop: reach,
                seal: reach / 2.0,
            }
        } else {
            Practice {
                outlet_drop: DROP_UNDER_PRESSURE,
                seal: reach,
            }
        }
    }

    /// Where the water stands in a trap that holds.
    pub fn levels(&self) -> Levels {
        if self.suction {
            Levels {
                running_inlet: self.water_column,
                startup_inlet: self.water_column / 2.0,
                startup_outlet_fall: self.water_column / 2.0,
            }
        } else {
            let below = Head::new(0.0) - self.water_column;
            Levels {
                running_inlet: below,
                startup_inlet: below,
                startup_outlet_fall: Head::new(0.0),
            }
        }
    }
}

impl Seal {
    /// Whether the pan floods while running: under suction, when the drop is no more than the suction.
    pub fn floods(&self, need: &Need) -> bool {
        need.suction && self.outlet_drop <= Length::nearest(need.outlet_drop.value())
    }

    /// Whether air passes the trap at start-up: its seal is less than the need.
    pub fn loses_seal(&self, need: &Need) -> bool {
        self.seal < Length::nearest(need.seal.value())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_drop_equal_to_the_suction_floods() {
        let need = need(Pressure::new(-1.5), Temperature::new(60.0)).unwrap();
        let trap = |drop: f64, seal: f64| Seal {
            outlet_drop: Length::nearest(drop),
            seal: Length::nearest(seal),
        };
        assert!(trap(1.5, 1.0).floods(&need));
        assert!(trap(need.outlet_drop.value(), 1.0).floods(&need));
        assert!(!trap(1.51, 1.0).floods(&need));
        assert!(trap(2.5, 0.75).loses_seal(&need));
        assert!(!trap(2.5, 0.751).loses_seal(&need));
    }

    #[test]
    fn a_cabinet_under_pressure_never_floods() {
        let need = need(Pressure::new(1.0), Temperature::new(60.0)).unwrap();
        let trap = Seal {
            outlet_drop: Length::ZERO,
            seal: Length::inches(1),
        };
        assert!(!trap.floods(&need));
        assert!(trap.loses_seal(&need));
    }
}
