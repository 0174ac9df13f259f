//! A hot-water coil at other conditions than rated: effectiveness and number of transfer units,
//! single-pass crossflow with both fluids unmixed.
//!
//! Source: Kays and London, Compact Heat Exchangers; the exact form by Mason's series (1955).

use super::root::cross;
use crate::quantity::{AirFlow, HeatFlow, Temperature, WaterFlow};

/// The form of effectiveness in use.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Mason's series, exact.
    Exact,
    /// 1 − exp[(N^0.22/C)(exp(−C N^0.78) − 1)], the usual approximation.
    Approximate,
}

/// Most transfer units that a rating is looked for in.
const MOST_UNITS: f64 = 100.0;

/// Effectiveness at a number of transfer units and a ratio of capacity rates (0 to 1).
pub fn effectiveness(form: Form, units: f64, ratio: f64) -> f64 {
    if units <= 0.0 {
        return 0.0;
    }
    if ratio * units < 1e-9 {
        return -libm::expm1(-units);
    }
    match form {
        Form::Approximate => {
            let inner = libm::expm1(-ratio * libm::pow(units, 0.78));
            -libm::expm1(libm::pow(units, 0.22) / ratio * inner)
        }
        Form::Exact => (series(units, ratio * units) / (ratio * units)).min(1.0),
    }
}

/// Sum over n of P(n, a) P(n, b), P(n, x) = 1 − e^−x Σ_{m≤n} x^m/m!.
fn series(a: f64, b: f64) -> f64 {
    let (mut tail_a, mut tail_b) = (-libm::expm1(-a), -libm::expm1(-b));
    let (mut term_a, mut term_b) = (libm::exp(-a), libm::exp(-b));
    let mut sum = 0.0;
    let mut n = 0.0;
    // Past both means the tails fall faster than any power; a thousand terms cover a hundred units.
    while n < 1000.0 {
        let product = tail_a.max(0.0) * tail_b.max(0.0);
        sum += product;
        n += 1.0;
        if n > a && product <= 1e-17 * sum {
            break;
        }
        term_a *= a / n;
        term_b *= b / n;
        tail_a -= term_a;
        tail_b -= term_b;
    }
    sum
}

/// Flows and their capacity rates, Btu/(h·°F).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Streams {
    /// Air, at standard density.
    pub air: AirFlow,
    /// Water.
    pub water: WaterFlow,
    /// Capacity rate of the air.
    pub air_rate: HeatPerDegree,
    /// Capacity rate of the water.
    pub water_rate: HeatPerDegree,
}

/// Heat per degree and hour, Btu/(h·°F).
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct HeatPerDegree(f64);

impl HeatPerDegree {
    /// From a number of Btu/(h·°F).
    pub const fn new(value: f64) -> Self {
        Self(value)
    }

    /// The number of Btu/(h·°F).
    pub const fn value(self) -> f64 {
        self.0
    }
}

impl Streams {
    fn least(&self) -> f64 {
        self.air_rate.0.min(self.water_rate.0)
    }

    /// The smaller capacity rate over the larger.
    pub fn ratio(&self) -> f64 {
        self.least() / self.air_rate.0.max(self.water_rate.0)
    }
}

/// How the coil's conductance changes with its flows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scaling {
    /// Share of the air side in the resistance at the rated point, 0 to 1.
    pub air_share: f64,
    /// Exponent of air flow.
    pub air_exponent: f64,
    /// Exponent of water flow (0.8 by Dittus and Boelter for turbulent flow in the tubes).
    pub water_exponent: f64,
}

impl Scaling {
    /// Of finned coils with water in their tubes; typical, from memory.
    pub const TYPICAL: Self = Self {
        air_share: 0.75,
        air_exponent: 0.6,
        water_exponent: 0.8,
    };
}

/// Conductance that meets a rating exactly; none when the rating asks for more than the streams could give.
pub fn rated_conductance(
    form: Form,
    capacity: HeatFlow,
    entering_water: Temperature,
    entering_air: Temperature,
    streams: &Streams,
) -> Option<HeatPerDegree> {
    let most = streams.least() * (entering_water.value() - entering_air.value());
    let wanted = capacity.value() / most;
    let ratio = streams.ratio();
    let reach = effectiveness(form, MOST_UNITS, ratio);
    if !(wanted > 0.0 && wanted < reach) {
        return None;
    }
    let units = cross(0.0, MOST_UNITS, 1e-15, |units| {
        effectiveness(form, units, ratio) - wanted
    });
    Some(HeatPerDegree(units * streams.least()))
}

/// Conductance at other flows: its resistance is that at the rating, shared out as s and 1 − s, with the air's
/// share times (air over rated air)^−n and the water's times (water over rated water)^−m.
pub fn scaled_conductance(
    rated: HeatPerDegree,
    scaling: &Scaling,
    at_rating: &Streams,
    now: &Streams,
) -> HeatPerDegree {
    conductance_with(rated, scaling, at_rating, now, 1.0)
}

/// As [`scaled_conductance`], with another liquid inside: `film` is how well heat passes into it, over how well at the
/// rating.
pub fn conductance_with(
    rated: HeatPerDegree,
    scaling: &Scaling,
    at_rating: &Streams,
    now: &Streams,
    film: f64,
) -> HeatPerDegree {
    let air = libm::pow(now.air / at_rating.air, -scaling.air_exponent);
    let water = libm::pow(now.water / at_rating.water, -scaling.water_exponent) / film;
    HeatPerDegree(rated.0 / (scaling.air_share * air + (1.0 - scaling.air_share) * water))
}

/// What a coil gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoilOutput {
    /// Conductance over the smaller capacity rate.
    pub units: f64,
    /// Share of the greatest possible heat.
    pub effectiveness: f64,
    /// Heat to the air; below zero when the water is colder.
    pub capacity: HeatFlow,
    /// Air behind the coil.
    pub leaving_air: Temperature,
    /// Water behind the coil.
    pub leaving_water: Temperature,
}

/// Heat given at a conductance: effectiveness × least capacity rate × difference of entering temperatures.
pub fn coil_output(
    form: Form,
    conductance: HeatPerDegree,
    entering_water: Temperature,
    entering_air: Temperature,
    streams: &Streams,
) -> CoilOutput {
    let units = conductance.0 / streams.least();
    let share = effectiveness(form, units, streams.ratio());
    let heat = share * streams.least() * (entering_water.value() - entering_air.value());
    CoilOutput {
        units,
        effectiveness: share,
        capacity: HeatFlow::new(heat),
        leaving_air: Temperature::new(entering_air.value() + heat / streams.air_rate.0),
        leaving_water: Temperature::new(entering_water.value() - heat / streams.water_rate.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_are_those_of_the_textbook() {
        // One stream that does not change temperature: 1 − e^−N in every arrangement.
        for form in [Form::Exact, Form::Approximate] {
            let found = effectiveness(form, 1.5, 1e-12);
            assert!((found - (1.0 - libm::exp(-1.5))).abs() < 1e-9);
        }
        // Equal streams, Kays and London, crossflow unmixed: N 1 gives 0.476, N 3 gives 0.686 within a digit.
        assert!((effectiveness(Form::Exact, 1.0, 1.0) - 0.476).abs() < 0.001);
        assert!((effectiveness(Form::Exact, 3.0, 1.0) - 0.676).abs() < 0.01);
        // The approximation is within 3 % of the exact form where coils work.
        for units in [0.8, 1.0, 2.0, 4.0] {
            for ratio in [0.1, 0.5, 1.0] {
                let (a, b) = (
                    effectiveness(Form::Exact, units, ratio),
                    effectiveness(Form::Approximate, units, ratio),
                );
                assert!((a / b - 1.0).abs() < 0.03, "{units} {ratio} {a} {b}");
            }
        }
    }

    proptest::proptest! {
        #[test]
        fn more_surface_gives_more_and_never_all(units in 0.001..90.0_f64, ratio in 0.0..1.0_f64) {
            let of = |n| effectiveness(Form::Exact, n, ratio);
            proptest::prop_assert!(of(units * 1.01) >= of(units) - 1e-12);
            proptest::prop_assert!(of(units) > 0.0 && of(units) <= 1.0);
        }
    }
}
