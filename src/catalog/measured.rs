//! One amount with its unit: every dimension that catalogs hold.

use schemars::{Schema, json_schema};

use super::cursor::Cursor;
use super::misread::Misread;
use super::stated::Readable;
use crate::quantity::{
    AirFlow, ApparentPower, Area, Current, Dimension, Duration, HeatFlow, Length, Mass, Power,
    Pressure, Quantity, RValue, Ratio, Slope, Temperature, Velocity, Voltage, Volume, WaterFlow,
    WireGauge,
};

/// A type that one dimension has.
pub trait Measured: Copy {
    /// Its dimension.
    const DIMENSION: Dimension;
    /// Whether it may lie below zero.
    const SIGNED: bool;

    /// From an amount of that dimension.
    fn of(quantity: &Quantity) -> Option<Self>;

    /// Its number in the canonical unit.
    fn number(self) -> f64;
}

macro_rules! measured {
    ($($name:ident $signed:literal,)+) => {$(
        impl Measured for $name {
            const DIMENSION: Dimension = Dimension::$name;
            const SIGNED: bool = $signed;

            fn of(quantity: &Quantity) -> Option<Self> {
                Some(Self::new(quantity.real()))
            }

            fn number(self) -> f64 {
                self.value()
            }
        }

        impl Readable for $name {
            fn parse(text: &str) -> Result<Self, Misread> {
                Cursor::whole(text, Cursor::amount)
            }

            fn name() -> String {
                Dimension::$name.name().to_owned()
            }

            fn schema() -> Schema {
                amount_schema(Dimension::$name)
            }
        }
    )+};
}

measured! {
    AirFlow false,
    ApparentPower false,
    Area false,
    Current false,
    Duration false,
    HeatFlow false,
    Mass false,
    Power false,
    Pressure false,
    RValue false,
    Ratio false,
    Temperature true,
    Velocity false,
    Voltage false,
    Volume false,
    WaterFlow false,
    WireGauge true,
}

impl Measured for Length {
    const DIMENSION: Dimension = Dimension::Length;
    const SIGNED: bool = false;

    fn of(quantity: &Quantity) -> Option<Self> {
        quantity.length()
    }

    fn number(self) -> f64 {
        self.to_inches()
    }
}

impl Readable for Length {
    fn parse(text: &str) -> Result<Self, Misread> {
        Cursor::whole(text, Cursor::amount)
    }

    fn name() -> String {
        "length".to_owned()
    }

    fn schema() -> Schema {
        amount_schema(Dimension::Length)
    }
}

impl Measured for Slope {
    const DIMENSION: Dimension = Dimension::Slope;
    const SIGNED: bool = false;

    fn of(quantity: &Quantity) -> Option<Self> {
        quantity.slope()
    }

    fn number(self) -> f64 {
        self.in_per_ft()
    }
}

impl Readable for Slope {
    fn parse(text: &str) -> Result<Self, Misread> {
        Cursor::whole(text, Cursor::amount)
    }

    fn name() -> String {
        "slope".to_owned()
    }

    fn schema() -> Schema {
        amount_schema(Dimension::Slope)
    }
}

fn amount_schema(dimension: Dimension) -> Schema {
    form_schema(dimension.name(), dimension.example())
}

pub(super) fn form_schema(what: &str, example: &str) -> Schema {
    json_schema!({ "type": "string", "title": what, "examples": [example] })
}
