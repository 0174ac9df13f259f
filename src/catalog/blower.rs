//! What the blower and the coil do: taps with curves, suction in the cabinet, the table of cooling.

use super::record::{record, words};
use super::shelf::Named;
use super::stated::Stated;
use super::tabulated::{AirPoint, CoolingEntry};
use crate::quantity::{AirFlow, HeatFlow, Power, Pressure, Temperature};

words! {
    /// How a blower behaves against pressure.
    BlowerType {
        /// Its flow falls as pressure rises: each tap has points.
        Curve = "curve",
        /// Its motor holds the flow of the tap up to a pressure.
        ConstantAirflow = "constant airflow",
    }
}

record! {
    /// One speed tap.
    Tap, "a speed tap" {
        /// Electrical power at the design point.
        watts: Stated<Power>,
        /// Points of flow against total external static pressure, from the lowest pressure to the highest.
        points: Option<Vec<Stated<AirPoint>>>,
        /// The flow that the motor holds, for the constant-airflow type.
        holds: Option<Stated<AirFlow>>,
        /// The external static pressure up to which it holds it.
        up_to: Option<Stated<Pressure>>,
    }

    /// The blower.
    Blower, "a blower" {
        /// Whether it follows a curve or holds its airflow.
        type_of [type]: Stated<BlowerType>,
        /// The speed taps by the number or letter on the terminal.
        taps: Named<Tap>,
    }

    /// Suction in the cabinet at the drain pan, against flow.
    Suction, "cabinet suction" {
        /// With a clean filter; positive figures.
        clean: Option<Vec<Stated<AirPoint>>>,
        /// With a filter at its change; positive figures.
        dirty: Option<Vec<Stated<AirPoint>>>,
        /// `yes` when the maker gives none and it is computed from coil, filter and return.
        computed: Option<Stated<bool>>,
    }

    /// What the coil does at one airflow and one outdoor temperature.
    CoolingBlock, "a block of the cooling table" {
        /// Airflow over the coil.
        airflow: Stated<AirFlow>,
        /// Outdoor temperature.
        outdoor: Stated<Temperature>,
        /// Entering states and what is taken out.
        entering: Vec<Stated<CoolingEntry>>,
    }
}

/// One row of the cooling table, flat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoolingRow {
    /// Airflow over the coil.
    pub airflow: AirFlow,
    /// Outdoor temperature.
    pub outdoor: Temperature,
    /// Entering dry bulb.
    pub dry_bulb: Temperature,
    /// Entering wet bulb.
    pub wet_bulb: Temperature,
    /// Total capacity.
    pub total: HeatFlow,
    /// Sensible capacity.
    pub sensible: HeatFlow,
}

/// The table as rows; rows that are not known are left out.
pub fn cooling_rows(blocks: &[CoolingBlock]) -> Vec<CoolingRow> {
    blocks
        .iter()
        .filter_map(|block| Some((block, block.airflow.get()?, block.outdoor.get()?)))
        .flat_map(|(block, airflow, outdoor)| {
            block
                .entering
                .iter()
                .filter_map(Stated::get)
                .map(move |entry| CoolingRow {
                    airflow,
                    outdoor,
                    dry_bulb: entry.dry_bulb,
                    wet_bulb: entry.wet_bulb,
                    total: entry.total,
                    sensible: entry.sensible,
                })
        })
        .collect()
}

/// The known points of a curve, in the order given.
pub fn curve<T: Clone>(points: Option<&Vec<Stated<T>>>) -> Vec<T> {
    points
        .into_iter()
        .flatten()
        .filter_map(Stated::get)
        .collect()
}
