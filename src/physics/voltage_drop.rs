//! Voltage lost along a two-wire circuit of uncoated copper, direct-current resistance.
//!
//! Source: NFPA 70 Chapter 9, Table 8 and its note on temperature. Reactance and power factor are
//! left out: below 1 AWG the difference is small.

use super::conductor::{Size, Stranding, resistance};
use crate::quantity::{Current, Length, LineResistance, Ratio, Temperature, Voltage};

/// Change of copper's resistance per °C from 75 °C (NFPA 70 Chapter 9, Table 8, note on temperature).
const PER_CELSIUS: f64 = 0.003_23;

/// A circuit out and back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Circuit {
    /// At its source.
    pub supply: Voltage,
    /// Along both wires.
    pub current: Current,
    /// Of both wires.
    pub size: Size,
    /// Of both wires.
    pub stranding: Stranding,
    /// Source to load.
    pub one_way: Length,
    /// Of the copper.
    pub conductor: Temperature,
}

/// What a circuit loses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VoltageDrop {
    /// As the table gives it, at 75 °C.
    pub resistance_at_75: LineResistance,
    /// At the conductor's temperature.
    pub resistance: LineResistance,
    /// Over both wires.
    pub drop: Voltage,
    /// Drop over supply; zero without supply voltage.
    pub share: Ratio,
    /// Left at the load.
    pub at_load: Voltage,
}

/// Resistance at a conductor's temperature: R₇₅ (1 + 0.00323 (t − 75 °C)).
pub fn resistance_at(at_75: LineResistance, conductor: Temperature) -> LineResistance {
    at_75 * (1.0 + PER_CELSIUS * (conductor.celsius() - 75.0))
}

/// Drop = 2 × current × one-way length × resistance; none where the table holds no such conductor.
pub fn voltage_drop(circuit: &Circuit) -> Option<VoltageDrop> {
    let at_75 = resistance(circuit.size, circuit.stranding)?;
    let warm = resistance_at(at_75, circuit.conductor);
    let ohms = warm.value() * 2.0 * circuit.one_way.to_feet() / 1000.0;
    let drop = Voltage::new(circuit.current.value() * ohms);
    let share = if circuit.supply.value() > 0.0 {
        100.0 * (drop / circuit.supply)
    } else {
        0.0
    };
    Some(VoltageDrop {
        resistance_at_75: at_75,
        resistance: warm,
        drop,
        share: Ratio::new(share),
        at_load: circuit.supply - drop,
    })
}
