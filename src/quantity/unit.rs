//! The units that the language reads, each with its dimension and factor.

use super::Dimension;

/// A unit of the language.
#[derive(Clone, Copy, Debug)]
pub struct Unit {
    /// How it is written.
    pub name: &'static str,
    /// Other ways to write it, compared after exact names and without case.
    pub aliases: &'static [&'static str],
    /// What it measures.
    pub dimension: Dimension,
    /// Canonical units in one of it; nanometres for lengths.
    pub factor: f64,
    /// Added after the factor, for temperature scales.
    pub offset: f64,
}

const fn unit(
    name: &'static str,
    aliases: &'static [&'static str],
    dimension: Dimension,
    factor: f64,
) -> Unit {
    Unit {
        name,
        aliases,
        dimension,
        factor,
        offset: 0.0,
    }
}

/// Pascals in one inch of water, conventional.
const INWC: f64 = 249.08891;
/// Watts in one Btu/h.
const BTU_H: f64 = 1055.05585 / 3600.0;
/// m³/s in one cfm.
const CFM: f64 = 4.719_474e-4;
/// Cubic metres in one US gallon (231 in³).
const GALLON: f64 = 0.003_785_411_784;

/// Every unit, grouped by dimension. Order matters only for units that share a name.
pub(super) const UNITS: &[Unit] = &[
    unit("in", &["inch", "inches"], Dimension::Length, 25_400_000.0),
    unit("ft", &["foot", "feet"], Dimension::Length, 304_800_000.0),
    unit("yd", &["yard", "yards"], Dimension::Length, 914_400_000.0),
    unit(
        "mm",
        &["millimeter", "millimetre"],
        Dimension::Length,
        1_000_000.0,
    ),
    unit(
        "cm",
        &["centimeter", "centimetre"],
        Dimension::Length,
        10_000_000.0,
    ),
    unit(
        "m",
        &["meter", "metre", "meters", "metres"],
        Dimension::Length,
        1_000_000_000.0,
    ),
    unit("in2", &["sqin", "in^2", "in²"], Dimension::Area, 1.0),
    unit(
        "ft2",
        &["sqft", "ft^2", "ft²", "sf"],
        Dimension::Area,
        144.0,
    ),
    unit("cm2", &["cm²"], Dimension::Area, 1.0 / 6.4516),
    unit("m2", &["m²"], Dimension::Area, 10_000.0 / 6.4516),
    unit("gal", &["gallon", "gallons"], Dimension::Volume, 1.0),
    unit(
        "L",
        &["liter", "litre", "liters", "litres"],
        Dimension::Volume,
        0.001 / GALLON,
    ),
    unit("F", &["degF", "°F"], Dimension::Temperature, 1.0),
    Unit {
        offset: 32.0,
        ..unit("C", &["degC", "°C"], Dimension::Temperature, 1.8)
    },
    unit("inwc", &["inH2O", "iwc", "inwg"], Dimension::Pressure, 1.0),
    unit("Pa", &["pascal"], Dimension::Pressure, 1.0 / INWC),
    unit("kPa", &[], Dimension::Pressure, 1000.0 / INWC),
    unit("psi", &["psig"], Dimension::Pressure, 6894.757293168 / INWC),
    unit("cfm", &["CFM", "ft3/min"], Dimension::AirFlow, 1.0),
    unit("m3/s", &["m³/s"], Dimension::AirFlow, 1.0 / CFM),
    unit("m3/h", &["m³/h"], Dimension::AirFlow, 1.0 / 3600.0 / CFM),
    unit("L/s", &["l/s"], Dimension::AirFlow, 0.001 / CFM),
    unit("gpm", &["GPM", "gal/min"], Dimension::WaterFlow, 1.0),
    unit("gph", &["GPH", "gal/h"], Dimension::WaterFlow, 1.0 / 60.0),
    unit(
        "L/min",
        &["l/min", "lpm"],
        Dimension::WaterFlow,
        0.001 / GALLON,
    ),
    unit(
        "Btu/h",
        &["Btuh", "BTUH", "BTU/h", "Btu/hr"],
        Dimension::HeatFlow,
        1.0,
    ),
    unit(
        "kBtu/h",
        &["kBtuh", "MBH", "kBtu/hr"],
        Dimension::HeatFlow,
        1000.0,
    ),
    unit("ton", &["tons"], Dimension::HeatFlow, 12_000.0),
    unit("W", &["watt", "watts"], Dimension::Power, 1.0),
    unit("kW", &["kilowatt"], Dimension::Power, 1000.0),
    unit("fpm", &["ft/min", "FPM"], Dimension::Velocity, 1.0),
    unit("ft/s", &["fps"], Dimension::Velocity, 60.0),
    unit("m/s", &[], Dimension::Velocity, 60.0 / 0.3048),
    unit("lb", &["lbs", "pound", "pounds"], Dimension::Mass, 1.0),
    unit("oz", &["ounce", "ounces"], Dimension::Mass, 1.0 / 16.0),
    unit("kg", &["kilogram"], Dimension::Mass, 1.0 / 0.45359237),
    unit("V", &["volt", "volts", "VAC"], Dimension::Voltage, 1.0),
    unit(
        "A",
        &["amp", "amps", "ampere", "amperes"],
        Dimension::Current,
        1.0,
    ),
    unit("VA", &["va"], Dimension::ApparentPower, 1.0),
    unit("kVA", &[], Dimension::ApparentPower, 1000.0),
    unit("ohm", &["ohms", "Ω"], Dimension::Resistance, 1.0),
    unit("%RH", &["%rh", "rh"], Dimension::Humidity, 1.0),
    unit("%", &["percent", "pct"], Dimension::Ratio, 1.0),
    unit("AWG", &["gauge", "ga"], Dimension::WireGauge, 1.0),
    unit("R", &[], Dimension::RValue, 1.0),
    unit("deg", &["degree", "degrees", "°"], Dimension::Angle, 1.0),
    unit("s", &["sec", "second", "seconds"], Dimension::Duration, 1.0),
    unit("min", &["minute", "minutes"], Dimension::Duration, 60.0),
    unit("h", &["hr", "hour", "hours"], Dimension::Duration, 3600.0),
    unit("lb/ft3", &["lb/ft³", "pcf"], Dimension::Density, 1.0),
    unit("lb/h", &["lb/hr", "pph"], Dimension::MassFlow, 1.0),
];

/// The unit written `word`: exactly, else by alias, else without case when that leaves one.
pub fn unit_named(word: &str) -> Option<&'static Unit> {
    UNITS
        .iter()
        .find(|unit| unit.name == word)
        .or_else(|| UNITS.iter().find(|unit| unit.aliases.contains(&word)))
        .or_else(|| {
            let mut near = UNITS.iter().filter(|unit| {
                unit.name.eq_ignore_ascii_case(word)
                    || unit
                        .aliases
                        .iter()
                        .any(|alias| alias.eq_ignore_ascii_case(word))
            });
            let first = near.next()?;
            near.all(|other| other.dimension == first.dimension && other.name == first.name)
                .then_some(first)
        })
}

impl Unit {
    /// `value` of this unit in the canonical unit of its dimension (not for lengths).
    pub fn to_canonical(&self, value: f64) -> f64 {
        value * self.factor + self.offset
    }

    /// Whether the unit can stand for `dimension`: a watt is heat where heat is wanted, a degree a difference.
    pub fn fits(&self, dimension: Dimension) -> bool {
        self.crosses(dimension).is_some()
    }

    /// Factor and offset into the canonical unit of a neighbouring dimension.
    pub fn crosses(&self, dimension: Dimension) -> Option<(f64, f64)> {
        match (self.dimension, dimension) {
            (own, wanted) if own == wanted => Some((self.factor, self.offset)),
            (Dimension::Temperature, Dimension::TemperatureDifference) => Some((self.factor, 0.0)),
            (Dimension::Power, Dimension::HeatFlow) => Some((self.factor / BTU_H, 0.0)),
            (Dimension::AirFlow, Dimension::WaterFlow) if self.name != "cfm" => {
                Some((self.factor * CFM / GALLON * 60.0, 0.0))
            }
            (Dimension::Pressure, Dimension::WaterPressure) => {
                Some((self.factor * INWC / 6894.757293168, 0.0))
            }
            (Dimension::Velocity, Dimension::WaterSpeed) => Some((self.factor / 60.0, 0.0)),
            (Dimension::Ratio, Dimension::Humidity) => Some((1.0, 0.0)),
            // 1 % is an eighth of an inch per foot in the trade's mouth, 0.12 in exactly.
            (Dimension::Ratio, Dimension::Slope) => Some((0.12, 0.0)),
            _ => None,
        }
    }
}
