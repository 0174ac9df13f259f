//! Ranges, points of curves and entries of tables: several amounts on one line.

use schemars::Schema;

use super::cursor::Cursor;
use super::measured::{Measured, form_schema};
use super::misread::Misread;
use super::stated::Readable;
use crate::quantity::{AirFlow, HeatFlow, Pressure, Temperature, WaterFlow};

/// From one amount to another: `220 cfm to 350 cfm`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range<T> {
    /// The lower end.
    pub least: T,
    /// The upper end.
    pub most: T,
}

impl<M: Measured + PartialOrd> Range<M> {
    /// Whether `value` lies within, ends included.
    pub fn holds(&self, value: M) -> bool {
        self.least <= value && value <= self.most
    }
}

impl<M: Measured> Readable for Range<M> {
    fn parse(text: &str) -> Result<Self, Misread> {
        Cursor::whole(text, |cursor| {
            let least: M = cursor.amount()?;
            cursor.word(
                "to",
                "a range has `to` between its ends",
                "220 cfm to 350 cfm",
            )?;
            let most: M = cursor.amount()?;
            if least.number() > most.number() {
                return Err(Misread::EmptyRange {
                    dimension: M::DIMENSION,
                    least: least.number(),
                    most: most.number(),
                });
            }
            Ok(Self { least, most })
        })
    }

    fn name() -> String {
        format!("range of {}", M::DIMENSION.name())
    }

    fn schema() -> Schema {
        let example = M::DIMENSION.example();
        form_schema(
            &format!("{} from … to …", M::DIMENSION.name()),
            &format!("{example} to {example}"),
        )
    }
}

/// A point of a curve: `620 cfm at 1.5 inwc`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurvePoint<A, B> {
    /// The flow.
    pub flow: A,
    /// The pressure at that flow.
    pub pressure: B,
}

/// A point of an air curve.
pub type AirPoint = CurvePoint<AirFlow, Pressure>;
/// A point of a pump's curve, the head as a pressure.
pub type WaterPoint = CurvePoint<WaterFlow, Pressure>;

impl<A: Measured, B: Measured> Readable for CurvePoint<A, B> {
    fn parse(text: &str) -> Result<Self, Misread> {
        Cursor::whole(text, |cursor| {
            let flow = cursor.amount()?;
            cursor.word(
                "at",
                "a point is a flow at a pressure",
                "620 cfm at 1.5 inwc",
            )?;
            Ok(Self {
                flow,
                pressure: cursor.amount()?,
            })
        })
    }

    fn name() -> String {
        format!(
            "point of {} and {}",
            A::DIMENSION.name(),
            B::DIMENSION.name()
        )
    }

    fn schema() -> Schema {
        form_schema(
            &format!("{} at {}", A::DIMENSION.name(), B::DIMENSION.name()),
            &format!("{} at {}", A::DIMENSION.example(), B::DIMENSION.example()),
        )
    }
}

/// What a heat pump gives at one temperature outdoors: `38 kBtu/h at 47 F`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeatingPoint {
    /// Heat given to the air.
    pub heat: HeatFlow,
    /// Temperature outdoors.
    pub outdoor: Temperature,
}

const HEATING: &str = "38 kBtu/h at 47 F";

impl Readable for HeatingPoint {
    fn parse(text: &str) -> Result<Self, Misread> {
        Cursor::whole(text, |cursor| {
            let heat = cursor.amount()?;
            cursor.word("at", "a point is a heat at a temperature outdoors", HEATING)?;
            let outdoor = cursor.amount()?;
            Ok(Self { heat, outdoor })
        })
    }

    fn name() -> String {
        "heat at a temperature outdoors".to_owned()
    }

    fn schema() -> Schema {
        form_schema("heat at a temperature outdoors", HEATING)
    }
}

/// What a coil does with air that enters in one state:
/// `80 F dry, 67 F wet = 36 kBtu/h total, 25.2 kBtu/h sensible`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoolingEntry {
    /// Entering dry bulb.
    pub dry_bulb: Temperature,
    /// Entering wet bulb.
    pub wet_bulb: Temperature,
    /// Total capacity.
    pub total: HeatFlow,
    /// Sensible capacity.
    pub sensible: HeatFlow,
}

const COOLING: &str = "80 F dry, 67 F wet = 36 kBtu/h total, 25 kBtu/h sensible";

impl Readable for CoolingEntry {
    fn parse(text: &str) -> Result<Self, Misread> {
        const FORM: &str = "an entry is air entering = heat taken out";
        Cursor::whole(text, |cursor| {
            let dry_bulb = cursor.amount()?;
            cursor.word("dry", FORM, COOLING)?;
            cursor.word(",", FORM, COOLING)?;
            let wet_bulb = cursor.amount()?;
            cursor.word("wet", FORM, COOLING)?;
            cursor.word("=", FORM, COOLING)?;
            let total = cursor.amount()?;
            cursor.word("total", FORM, COOLING)?;
            cursor.word(",", FORM, COOLING)?;
            let sensible = cursor.amount()?;
            cursor.word("sensible", FORM, COOLING)?;
            Ok(Self {
                dry_bulb,
                wet_bulb,
                total,
                sensible,
            })
        })
    }

    fn name() -> String {
        "cooling entry".to_owned()
    }

    fn schema() -> Schema {
        form_schema("air entering = heat taken out", COOLING)
    }
}
