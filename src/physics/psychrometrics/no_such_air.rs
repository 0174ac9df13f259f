//! Why no moist air has the state that was asked for, in words for reports.

use std::fmt;

use super::moist_air::{COLDEST, HOTTEST};
use crate::quantity::{HumidityRatio, Temperature};

/// Why no moist air has the state that was asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoSuchAir {
    /// A temperature outside the range of the equations.
    Temperature,
    /// A relative humidity below 0 or above 100 %.
    RelativeHumidity,
    /// A wet bulb above the dry bulb.
    WetBulbAbove,
    /// A wet bulb lower than dry air can have; the lowest is given.
    WetBulbBelow(Temperature),
    /// A dew point above the dry bulb.
    DewPointAbove,
    /// A humidity ratio below zero.
    HumidityRatio,
    /// More water than the air can hold; the most is given.
    Supersaturated(HumidityRatio),
    /// Two properties that say the same, or nearly.
    SameTwice,
    /// Two properties that no air has together.
    NoneHasBoth,
    /// Water boils at this temperature and pressure.
    Boils,
}

impl fmt::Display for NoSuchAir {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Temperature => write!(
                f,
                "temperatures of air lie between {COLDEST} and {HOTTEST} F"
            ),
            Self::RelativeHumidity => write!(f, "relative humidity lies between 0 and 100 %"),
            Self::WetBulbAbove => write!(f, "the wet bulb is above the dry bulb"),
            Self::WetBulbBelow(least) => write!(
                f,
                "the wet bulb is below that of dry air, {:.2} F",
                least.value()
            ),
            Self::DewPointAbove => write!(f, "the dew point is above the dry bulb"),
            Self::HumidityRatio => write!(f, "the humidity ratio is below zero"),
            Self::Supersaturated(most) => write!(
                f,
                "the air holds at most {:.6} lb of water per lb at this temperature",
                most.value()
            ),
            Self::SameTwice => write!(f, "the two properties say the same twice"),
            Self::NoneHasBoth => write!(f, "no air has both properties"),
            Self::Boils => write!(f, "water boils at this temperature and pressure"),
        }
    }
}
