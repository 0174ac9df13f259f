//! What a circuit carries, where no plate says the minimum: NFPA 70 Articles 424, 430 and 440.

use super::super::conductor::{
    Edition, largest_standard_rating_not_above, standard_rating_at_or_above,
};
use crate::quantity::{Current, Voltage};

/// Conductors carry the largest motor, heat and lasting loads at 125 % (NEC 210.19(A), 424.4(B), 430.22, 440.32).
const LASTING: f64 = 1.25;
/// Breaker of a motor-compressor (NEC 440.22(A)).
const COMPRESSOR: f64 = 1.75;
/// The same where it does not start on 175 % (NEC 440.22(A), exception).
const COMPRESSOR_HARD: f64 = 2.25;
/// Inverse-time breaker of a motor (NEC Table 430.52).
const MOTOR: f64 = 2.5;
/// The least breaker that any of these asks for, A (NEC 440.22(A); the least one of a house).
const LEAST_BREAKER: f64 = 15.0;
/// A motor that may share a general circuit draws no more, A (NEC 430.53(A)).
const SMALL_MOTOR: f64 = 6.0;

/// The section that a figure follows from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rule {
    /// One motor-compressor.
    Compressor,
    /// Several motor-compressors, or one with other loads.
    Compressors,
    /// One motor.
    Motor,
    /// Several motors.
    Motors,
    /// Fixed electric heat with its motor.
    Heat,
    /// Fixed electric heat beside a motor-compressor.
    HeatAndCompressor,
    /// Any other load that lasts three hours or more.
    Lasting,
}

impl Rule {
    /// Sections for the least ampacity, in an edition.
    pub fn of_ampacity(self, edition: Edition) -> &'static str {
        let older = edition <= Edition::new(2017);
        match self {
            Self::Compressor => "440.32",
            Self::Compressors => "440.33",
            Self::Motor => "430.22",
            Self::Motors => "430.24",
            Self::Heat if older => "424.3(B)",
            Self::Heat => "424.4(B)",
            Self::HeatAndCompressor if older => "424.3(B); 440.33, 440.34",
            Self::HeatAndCompressor => "424.4(B); 440.33, 440.34",
            Self::Lasting => "210.19(A)(1)",
        }
    }

    /// Sections for the breaker.
    pub const fn of_breaker(self) -> &'static str {
        match self {
            Self::Compressor => "440.22(A)",
            Self::Compressors | Self::HeatAndCompressor => "440.22(B)",
            Self::Motor => "430.52(C)(1), Table 430.52",
            Self::Motors => "430.53",
            Self::Heat | Self::Lasting => "210.20(A), 240.4(B)",
        }
    }
}

/// The loads of one circuit.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Loads {
    /// Motor-compressors: rated-load or branch-circuit selection current, the greater of the two.
    pub compressors: Vec<Current>,
    /// Other motors: full-load current.
    pub motors: Vec<Current>,
    /// Electric heat.
    pub heat: Vec<Current>,
    /// What else lasts.
    pub lasting: Vec<Current>,
}

/// A figure with the section that it follows from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ask {
    /// The current.
    pub current: Current,
    /// Why.
    pub rule: Rule,
}

/// The breaker that loads ask for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Breaker {
    /// Before it is brought to a standard rating.
    pub computed: Current,
    /// The standard rating: the largest allowed for motors and compressors, the least that carries other loads.
    pub rating: Current,
    /// Why.
    pub rule: Rule,
}

fn sum(loads: &[Current]) -> f64 {
    loads.iter().map(|load| load.value()).sum()
}

fn largest(loads: &[Current]) -> f64 {
    loads.iter().map(|load| load.value()).fold(0.0, f64::max)
}

impl Loads {
    /// Whether there is none.
    pub const fn is_empty(&self) -> bool {
        self.compressors.is_empty()
            && self.motors.is_empty()
            && self.heat.is_empty()
            && self.lasting.is_empty()
    }

    /// Everything together: the running current.
    pub fn running(&self) -> Current {
        Current::new(
            sum(&self.compressors) + sum(&self.motors) + sum(&self.heat) + sum(&self.lasting),
        )
    }

    fn rule(&self) -> Option<Rule> {
        let one = |loads: &[Current]| loads.len() == 1;
        Some(match (self.compressors.is_empty(), self.heat.is_empty()) {
            (false, false) => Rule::HeatAndCompressor,
            (false, true)
                if one(&self.compressors) && self.motors.is_empty() && self.lasting.is_empty() =>
            {
                Rule::Compressor
            }
            (false, true) => Rule::Compressors,
            (true, false) => Rule::Heat,
            _ if one(&self.motors) && self.lasting.is_empty() => Rule::Motor,
            _ if !self.motors.is_empty() => Rule::Motors,
            _ if !self.lasting.is_empty() => Rule::Lasting,
            _ => return None,
        })
    }

    /// The least ampacity of the conductors. With electric heat its motors count with it at 125 %; else the largest
    /// motor or compressor counts at 125 % and the others whole; lasting loads at 125 %. None without loads.
    pub fn least_ampacity(&self) -> Option<Ask> {
        let rule = self.rule()?;
        let lasting = LASTING * sum(&self.lasting);
        let (compressors, motors) = (sum(&self.compressors), sum(&self.motors));
        let moving = if self.heat.is_empty() {
            let most = largest(&self.compressors).max(largest(&self.motors));
            compressors + motors + (LASTING - 1.0) * most
        } else {
            LASTING * (sum(&self.heat) + motors)
                + compressors
                + (LASTING - 1.0) * largest(&self.compressors)
        };
        Some(Ask {
            current: Current::new(moving + lasting),
            rule,
        })
    }

    /// The breaker. A compressor: 175 % of the largest (225 % with `hard_start`) and the other loads whole, down to
    /// a standard rating, never under 15 A. One motor: 250 %, up to a standard rating. Several motors: 250 % of the
    /// largest and the others whole, down. Motors up to 6 A may stand on a general circuit of 20 A at 120 V or 15 A
    /// at more (430.53(A)). Heat and lasting loads: their least ampacity, up.
    pub fn breaker(&self, supply: Voltage, edition: Edition, hard_start: bool) -> Option<Breaker> {
        let rule = self.rule()?;
        let above = |a: f64| standard_rating_at_or_above(Current::new(a), edition);
        let below =
            |a: f64| largest_standard_rating_not_above(Current::new(a.max(LEAST_BREAKER)), edition);
        let all = self.running().value();
        let (computed, rating) = match rule {
            Rule::Compressor | Rule::Compressors | Rule::HeatAndCompressor => {
                let share = if hard_start {
                    COMPRESSOR_HARD
                } else {
                    COMPRESSOR
                };
                let computed = all + (share - 1.0) * largest(&self.compressors);
                (computed, below(computed)?)
            }
            Rule::Motor | Rule::Motors => {
                let computed = all + (MOTOR - 1.0) * largest(&self.motors);
                let general = if supply.value() <= 125.0 {
                    20.0
                } else {
                    LEAST_BREAKER
                };
                let own = if rule == Rule::Motor {
                    above(computed)?
                } else {
                    below(computed)?
                };
                let small = largest(&self.motors) <= SMALL_MOTOR;
                let rating = if small {
                    Current::new(own.value().max(general))
                } else {
                    Current::new(own.value().max(LEAST_BREAKER))
                };
                (computed, rating)
            }
            Rule::Heat | Rule::Lasting => {
                let computed = self.least_ampacity()?.current.value();
                (computed, above(computed.max(LEAST_BREAKER))?)
            }
        };
        Some(Breaker {
            computed: Current::new(computed),
            rating,
            rule,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn amperes(all: &[f64]) -> Vec<Current> {
        all.iter().copied().map(Current::new).collect()
    }

    fn of(compressors: &[f64], motors: &[f64], heat: &[f64]) -> Loads {
        Loads {
            compressors: amperes(compressors),
            motors: amperes(motors),
            heat: amperes(heat),
            lasting: Vec::new(),
        }
    }

    fn least(loads: &Loads) -> (f64, &'static str) {
        let ask = loads.least_ampacity().unwrap();
        (
            ask.current.value(),
            ask.rule.of_ampacity(Edition::default()),
        )
    }

    fn breaker(loads: &Loads, hard: bool) -> (f64, f64) {
        let found = loads
            .breaker(Voltage::new(240.0), Edition::default(), hard)
            .unwrap();
        (found.computed.value(), found.rating.value())
    }

    /// NFPA 70 Annex D, Example D8: motors of 34 A, 40 A and 40 A on one feed:
    /// 40 × 1.25 + 40 + 34 = 124 A.
    #[test]
    fn annex_d8_motors_on_one_feed() {
        assert_eq!(least(&of(&[], &[34.0, 40.0, 40.0], &[])), (124.0, "430.24"));
    }

    /// A code quiz of the trade press on 440.22 (2005 edition): rated load 38 A, branch-circuit selection current
    /// 40 A on the plate: the greater counts, 40 × 1.75 = 70 A.
    #[test]
    fn quiz_on_a_hermetic_compressor() {
        let loads = of(&[40.0], &[], &[]);
        assert_eq!(breaker(&loads, false), (70.0, 70.0));
        assert_eq!(breaker(&loads, true), (90.0, 90.0));
        assert_eq!(least(&loads), (50.0, "440.32"));
    }

    /// A worked question of the trade press on 424.3(B) (2017 edition): 9,600 W at 240 V and a blower of 3 A:
    /// 40 + 3 = 43 A, × 1.25 = 53.75 A, breaker 60 A.
    #[test]
    fn question_on_heat_with_a_blower() {
        let loads = of(&[], &[3.0], &[40.0]);
        assert_eq!(least(&loads), (53.75, "424.4(B)"));
        assert_eq!(
            loads
                .least_ampacity()
                .unwrap()
                .rule
                .of_ampacity(Edition::new(2017)),
            "424.3(B)"
        );
        assert_eq!(breaker(&loads, false), (53.75, 60.0));
    }

    /// A textbook motor: 2 hp at 230 V takes 12 A by Table 430.248: conductors 15 A, breaker 2.5 × 12 = 30 A.
    #[test]
    fn textbook_motor_of_two_horsepower() {
        let loads = of(&[], &[12.0], &[]);
        assert_eq!(least(&loads), (15.0, "430.22"));
        assert_eq!(breaker(&loads, false), (30.0, 30.0));
    }

    #[test]
    fn a_compressor_with_its_fan_goes_down_and_never_under_fifteen() {
        let loads = of(&[18.6], &[1.35], &[]);
        let (found, section) = least(&loads);
        assert!((found - 24.6).abs() < 1e-9);
        assert_eq!(section, "440.33");
        // 1.75 × 18.6 + 1.35 = 33.9; 2.25 × 18.6 + 1.35 = 43.2.
        assert!((breaker(&loads, false).1 - 30.0).abs() < 1e-9);
        assert!((breaker(&loads, true).1 - 40.0).abs() < 1e-9);
        assert!((breaker(&of(&[4.0], &[], &[]), false).1 - 15.0).abs() < 1e-9);
    }

    #[test]
    fn a_small_motor_may_stand_on_a_general_circuit() {
        let loads = of(&[], &[0.6], &[]);
        let at = |volts| {
            loads
                .breaker(Voltage::new(volts), Edition::new(2023), false)
                .unwrap()
                .rating
                .value()
        };
        assert_eq!((at(120.0), at(240.0)), (20.0, 15.0));
        let large = of(&[], &[6.1], &[]);
        // 15.25 A, the next one above.
        assert!((breaker(&large, false).1 - 20.0).abs() < 1e-9);
    }

    #[test]
    fn nothing_asks_for_nothing() {
        let none = Loads::default();
        assert!(none.is_empty() && none.least_ampacity().is_none());
        assert!(
            none.breaker(Voltage::new(240.0), Edition::default(), false)
                .is_none()
        );
    }
}
