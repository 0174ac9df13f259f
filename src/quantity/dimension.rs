//! What kind of amount a number is, and the one unit in which it is kept.

/// A dimension of the language; each has one canonical unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Dimension {
    /// A distance; exact, shown in inches or feet.
    Length,
    /// Fall over run, inches per foot.
    Slope,
    /// An area, square inches.
    Area,
    /// A volume, US gallons.
    Volume,
    /// A temperature on a scale, °F.
    Temperature,
    /// A difference of temperatures, °F.
    TemperatureDifference,
    /// A pressure or head, inches of water.
    Pressure,
    /// A flow of air, cubic feet per minute.
    AirFlow,
    /// A flow of water, US gallons per minute.
    WaterFlow,
    /// A rate of heat, Btu per hour.
    HeatFlow,
    /// A speed, feet per minute.
    Velocity,
    /// A mass or weight, pounds.
    Mass,
    /// A voltage, volts.
    Voltage,
    /// A current, amperes.
    Current,
    /// Apparent power, volt-amperes.
    ApparentPower,
    /// Electrical power, watts.
    Power,
    /// A resistance, ohms.
    Resistance,
    /// A share, percent.
    Ratio,
    /// Relative humidity, percent.
    Humidity,
    /// American wire gauge.
    WireGauge,
    /// Thermal resistance, h·ft²·°F/Btu.
    RValue,
    /// An angle, degrees.
    Angle,
    /// A span of time, seconds.
    Duration,
    /// A density, pounds per cubic foot.
    Density,
    /// A rate of mass, pounds per hour.
    MassFlow,
    /// A height of the liquid that moves in a loop, feet; worked out, never written.
    Head,
    /// A pressure of water above the air's, pounds per square inch; written as a pressure.
    WaterPressure,
    /// A speed of water, feet per second; written as a velocity.
    WaterSpeed,
    /// A bare number.
    Count,
}

impl Dimension {
    /// Every dimension that is written.
    pub const ALL: &'static [Self] = &[
        Self::Length,
        Self::Slope,
        Self::Area,
        Self::Volume,
        Self::Temperature,
        Self::TemperatureDifference,
        Self::Pressure,
        Self::AirFlow,
        Self::WaterFlow,
        Self::HeatFlow,
        Self::Velocity,
        Self::Mass,
        Self::Voltage,
        Self::Current,
        Self::ApparentPower,
        Self::Power,
        Self::Resistance,
        Self::Ratio,
        Self::Humidity,
        Self::WireGauge,
        Self::RValue,
        Self::Angle,
        Self::Duration,
        Self::Density,
        Self::MassFlow,
        Self::Count,
    ];

    /// The name that reports use.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Length => "length",
            Self::Slope => "slope",
            Self::Area => "area",
            Self::Volume => "volume",
            Self::Temperature => "temperature",
            Self::TemperatureDifference => "temperature difference",
            Self::Pressure => "pressure",
            Self::AirFlow => "air flow",
            Self::WaterFlow => "water flow",
            Self::HeatFlow => "heat flow",
            Self::Velocity => "velocity",
            Self::Mass => "weight",
            Self::Voltage => "voltage",
            Self::Current => "current",
            Self::ApparentPower => "apparent power",
            Self::Power => "electrical power",
            Self::Resistance => "resistance",
            Self::Ratio => "share",
            Self::Humidity => "relative humidity",
            Self::WireGauge => "wire gauge",
            Self::RValue => "thermal resistance",
            Self::Angle => "angle",
            Self::Duration => "time",
            Self::Density => "density",
            Self::MassFlow => "flow of weight",
            Self::Head => "head",
            Self::WaterPressure => "water pressure",
            Self::WaterSpeed => "speed of water",
            Self::Count => "plain number",
        }
    }

    /// The canonical unit, as figures and JSON print it; none for a bare number.
    pub const fn unit(self) -> Option<&'static str> {
        Some(match self {
            Self::Length => "in",
            Self::Slope => "in per ft",
            Self::Area => "in2",
            Self::Volume => "gal",
            Self::Temperature => "F",
            Self::TemperatureDifference => "F difference",
            Self::Pressure => "inwc",
            Self::AirFlow => "cfm",
            Self::WaterFlow => "gpm",
            Self::HeatFlow => "Btu/h",
            Self::Velocity => "fpm",
            Self::Mass => "lb",
            Self::Voltage => "V",
            Self::Current => "A",
            Self::ApparentPower => "VA",
            Self::Power => "W",
            Self::Resistance => "ohm",
            Self::Ratio => "%",
            Self::Humidity => "%RH",
            Self::WireGauge => "AWG",
            Self::RValue => "R",
            Self::Angle => "deg",
            Self::Duration => "s",
            Self::Density => "lb/ft3",
            Self::MassFlow => "lb/h",
            Self::Head => "ft of head",
            Self::WaterPressure => "psi",
            Self::WaterSpeed => "ft/s",
            Self::Count => return None,
        })
    }

    /// The unit as the trade prints it, where that is not how the language writes it.
    pub const fn printed(self) -> Option<&'static str> {
        match self {
            Self::Pressure => Some("in. w.c."),
            Self::Temperature | Self::TemperatureDifference => Some("°F"),
            other => other.unit(),
        }
    }

    /// A way to write it, for help texts.
    pub const fn example(self) -> &'static str {
        match self {
            Self::Length => "12 ft 6 in",
            Self::Slope => "1/4 in per ft",
            Self::Area => "144 in2",
            Self::Volume => "1/2 gal",
            Self::Temperature => "75 F",
            Self::TemperatureDifference => "20 F",
            Self::Pressure => "1.2 inwc",
            Self::AirFlow => "450 cfm",
            Self::WaterFlow => "8 gpm",
            Self::HeatFlow => "36 kBtu/h",
            Self::Velocity => "500 fpm",
            Self::Mass => "120 lb",
            Self::Voltage => "240 V",
            Self::Current => "15 A",
            Self::ApparentPower => "40 VA",
            Self::Power => "350 W",
            Self::Resistance => "5 ohm",
            Self::Ratio => "20 %",
            Self::Humidity => "50 %RH",
            Self::WireGauge => "14 AWG",
            Self::RValue => "6 R",
            Self::Angle => "45 deg",
            Self::Duration => "90 s",
            Self::Density => "0.075 lb/ft3",
            Self::MassFlow => "12 lb/h",
            Self::Head => "8 ft of head",
            Self::WaterPressure => "18 psi",
            Self::WaterSpeed => "4 ft/s",
            Self::Count => "4",
        }
    }
}
