//! Friction of a fluid in a straight pipe or duct: the Darcy factor from Reynolds number and roughness.

use std::fmt;

/// Laminar below this Reynolds number.
pub const LAMINAR_BELOW: f64 = 2000.0;
/// Turbulent from this Reynolds number on.
pub const TURBULENT_FROM: f64 = 4000.0;

/// How a fluid flows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Regime {
    /// It stands.
    NoFlow,
    /// In layers.
    Laminar,
    /// Between the two.
    Transitional,
    /// With eddies.
    Turbulent,
}

impl fmt::Display for Regime {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NoFlow => "no flow",
            Self::Laminar => "laminar",
            Self::Transitional => "transitional",
            Self::Turbulent => "turbulent",
        })
    }
}

/// The regime of a Reynolds number (its sign is the direction).
pub fn regime(reynolds: f64) -> Regime {
    match reynolds.abs() {
        0.0 => Regime::NoFlow,
        re if re < LAMINAR_BELOW => Regime::Laminar,
        re if re < TURBULENT_FROM => Regime::Transitional,
        _ => Regime::Turbulent,
    }
}

/// Darcy factor: 64/Re up to Re 2000, Colebrook–White from 4000, straight between the two.
///
/// Source: Hagen–Poiseuille; Colebrook (1939), solved to the last bits and not by an explicit
/// approximation. The straight line between is a convention that keeps the loss continuous.
pub fn darcy(reynolds: f64, relative_roughness: f64) -> f64 {
    let re = reynolds.abs();
    if re <= LAMINAR_BELOW {
        64.0 / re
    } else if re < TURBULENT_FROM {
        let laminar = 64.0 / LAMINAR_BELOW;
        let turbulent = colebrook(TURBULENT_FROM, relative_roughness);
        let share = (re - LAMINAR_BELOW) / (TURBULENT_FROM - LAMINAR_BELOW);
        laminar + (turbulent - laminar) * share
    } else {
        colebrook(re, relative_roughness)
    }
}

/// 1/√f = −2 log₁₀(ε/(3.7 D) + 2.51/(Re √f)), by Newton's method on 1/√f from an explicit start.
pub(super) fn colebrook(re: f64, relative_roughness: f64) -> f64 {
    const TWO_OVER_LN_10: f64 = 2.0 / std::f64::consts::LN_10;
    let rough = relative_roughness / 3.7;
    let smooth = 2.51 / re;
    // Haaland (1983), within 2 %: three steps are enough from here.
    let mut x = -1.8 / 2.0 * TWO_OVER_LN_10 * libm::log(libm::pow(rough, 1.11) + 6.9 / re);
    for _ in 0..20 {
        let inside = rough + smooth * x;
        let step =
            (x + TWO_OVER_LN_10 * libm::log(inside)) / (1.0 + TWO_OVER_LN_10 * smooth / inside);
        x -= step;
        if step.abs() <= 2e-16 * x.abs() {
            break;
        }
    }
    1.0 / (x * x)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_root_satisfies_its_equation_to_the_last_bits() {
        for re in [4e3, 1e4, 3.1e4, 1e6, 1e8] {
            for rough in [0.0, 1e-6, 1e-4, 0.0045, 0.018, 0.05] {
                let x = 1.0 / colebrook(re, rough).sqrt();
                let back = -2.0 * libm::log10(rough / 3.7 + 2.51 / re * x);
                assert!((x / back - 1.0).abs() < 4e-15, "{re} {rough}");
            }
        }
    }

    proptest::proptest! {
        /// Loss rises with flow: f Re² never falls, also through the transition.
        #[test]
        fn loss_is_continuous_and_rises(re in 1.0..1e6_f64, rough in 0.0..0.05_f64) {
            let loss = |re: f64| darcy(re, rough) * re * re;
            proptest::prop_assert!(loss(re * (1.0 + 1e-9)) > loss(re));
            for edge in [LAMINAR_BELOW, TURBULENT_FROM] {
                let (a, b) = (loss(edge * (1.0 - 1e-12)), loss(edge * (1.0 + 1e-12)));
                proptest::prop_assert!((a / b - 1.0).abs() < 1e-10);
            }
        }
    }
}
