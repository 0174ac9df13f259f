//! One type per dimension for physics: no bare number crosses a public signature there.

macro_rules! measures {
    ($($(#[doc = $doc:literal])+ $name:ident;)+) => {$(
        $(#[doc = $doc])+
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// From a number in the canonical unit.
            pub const fn new(value: f64) -> Self {
                Self(value)
            }

            /// The number in the canonical unit.
            pub const fn value(self) -> f64 {
                self.0
            }

            /// Without its sign.
            #[must_use]
            pub const fn abs(self) -> Self {
                Self(self.0.abs())
            }
        }

        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl std::ops::Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl std::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }

        impl std::ops::Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }

        impl std::ops::Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }
    )+};
}

measures! {
    /// An area, in².
    Area;
    /// A volume, US gallons.
    Volume;
    /// A temperature, °F.
    Temperature;
    /// A difference of temperatures, °F.
    TemperatureDifference;
    /// A pressure or head, inches of water (249.08891 Pa each).
    Pressure;
    /// A flow of air, ft³/min.
    AirFlow;
    /// A flow of water, US gallons per minute.
    WaterFlow;
    /// A rate of heat, Btu/h.
    HeatFlow;
    /// A speed, ft/min.
    Velocity;
    /// A mass, lb.
    Mass;
    /// A voltage, V.
    Voltage;
    /// A current, A.
    Current;
    /// Apparent power, VA.
    ApparentPower;
    /// Electrical power, W.
    Power;
    /// A resistance, Ω.
    Resistance;
    /// A share, percent.
    Ratio;
    /// Relative humidity, percent.
    Humidity;
    /// Wire gauge; 1/0 is 0, 2/0 is −1 and so on.
    WireGauge;
    /// Thermal resistance, h·ft²·°F/Btu.
    RValue;
    /// An angle, degrees.
    Angle;
    /// A time, s.
    Duration;
    /// A density, lb/ft³.
    Density;
    /// A volume of moist air per pound of dry air, ft³/lb.
    SpecificVolume;
    /// A dynamic viscosity, lb/(ft·s).
    Viscosity;
    /// Mass of water vapour per mass of dry air, lb/lb.
    HumidityRatio;
    /// Heat content per pound (of dry air, for moist air), Btu/lb.
    Enthalpy;
    /// Heat to warm one pound by one degree, Btu/(lb·°F).
    SpecificHeat;
    /// A rate of mass, lb/h.
    MassFlow;
    /// A height of liquid worked out from a pressure, in; a length of the job is a [`super::Length`].
    Head;
    /// Four times area over perimeter, in; worked out, so not a [`super::Length`].
    HydraulicDiameter;
    /// A resistance along a conductor, Ω per 1000 ft.
    LineResistance;
}

/// Pascals in one inch of water, conventional.
const PASCALS_PER_INWC: f64 = 249.088_91;
/// Pascals in one pound per square inch.
const PASCALS_PER_PSI: f64 = 6_894.757_293_168;

impl Pressure {
    /// From pounds per square inch.
    pub fn from_psi(psi: f64) -> Self {
        Self(psi * (PASCALS_PER_PSI / PASCALS_PER_INWC))
    }

    /// In pounds per square inch.
    pub fn psi(self) -> f64 {
        self.0 / (PASCALS_PER_PSI / PASCALS_PER_INWC)
    }
}

impl Temperature {
    /// From degrees Celsius.
    pub fn from_celsius(celsius: f64) -> Self {
        Self(celsius * 1.8 + 32.0)
    }

    /// In degrees Celsius.
    pub fn celsius(self) -> f64 {
        (self.0 - 32.0) / 1.8
    }
}
