//! Dimensions, units, and the reading and writing of amounts the way the trade writes them.
//!
//! Lengths are exact integers of a nanometre; every other amount is a number in the one canonical
//! unit of its dimension. Physics takes the typed measures of `measure.rs`.

mod dimension;
mod length;
mod measure;
mod read;
mod show;
mod unit;

pub use dimension::Dimension;
pub use length::{Length, Slope};
pub use measure::{
    AirFlow, Angle, ApparentPower, Area, Current, Density, Duration, Enthalpy, Head, HeatFlow,
    Humidity, HumidityRatio, HydraulicDiameter, LineResistance, Mass, MassFlow, Power, Pressure,
    RValue, Ratio, Resistance, SpecificHeat, SpecificVolume, Temperature, TemperatureDifference,
    Velocity, Viscosity, Voltage, Volume, WaterFlow, WireGauge,
};
pub use read::{Amount, Piece, PieceKind, Quantity, QuantityError, pieces, read_all, read_pieces};
pub use show::{
    fraction_inches, length_text, number_text, show_length, show_length_pair, show_pair, show_real,
    show_slope, trade_length,
};
pub use unit::{Unit, unit_named};
