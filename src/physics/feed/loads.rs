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
    /// Motors small enough to stand on a general circuit.
    SmallMotors,
    /// Fixed electric heat with its motor.
    Heat,
    /// Fixed electric heat beside a motor-compressor.
    HeatAndCompressor,
    /// Loads beside a motor-compressor that are larger than it is.
    OverCompressor,
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
            Self::Motors | Self::SmallMotors => "430.24",
            Self::OverCompressor => "440.33, 440.34",
            Self::Heat if older => "424.3(B)",
            Self::Heat => "424.4(B)",
            Self::HeatAndCompressor if older => "424.3(B); 440.33, 440.34",
            Self::HeatAndCompressor => "424.4(B); 440.33, 440.34",
            Self::Lasting => "210.19(A)(1)",
        }
    }

    /// Sections for the breaker, in an edition.
    pub fn of_breaker(self, edition: Edition) -> &'static str {
        let older = edition <= Edition::new(2017);
        match self {
            Self::Compressor => "440.22(A)",
            Self::Compressors => "440.22(B)",
            Self::HeatAndCompressor => "440.22(B)(1)",
            Self::OverCompressor if older => "440.22(B)(2), 424.3(B), 210.20(A)",
            Self::OverCompressor => "440.22(B)(2), 424.4(B), 210.20(A)",
            Self::Motor => "430.52(C)(1), Table 430.52",
            Self::Motors => "430.53",
            Self::SmallMotors => "430.53(A)",
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

    /// Whether it is motors alone, small enough for a general circuit (430.53(A)).
    pub fn is_small_motors(&self) -> bool {
        let motors = matches!(self.rule(), Some(Rule::Motor | Rule::Motors));
        motors && self.lasting.is_empty() && largest(&self.motors) <= SMALL_MOTOR
    }

    /// With the loads of another unit.
    pub fn and(&mut self, more: Self) {
        self.compressors.extend(more.compressors);
        self.motors.extend(more.motors);
        self.heat.extend(more.heat);
        self.lasting.extend(more.lasting);
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

    /// What breaker heat and lasting loads ask for at least, A: 125 % of them, a heater's motors with it (424.4(B),
    /// 210.20(A)); nothing without such loads.
    fn least_of_lasting(&self) -> f64 {
        let motors = if self.heat.is_empty() {
            0.0
        } else {
            sum(&self.motors)
        };
        LASTING * (sum(&self.heat) + sum(&self.lasting) + motors)
    }

    /// What the loads allow a breaker before it is brought to a standard rating, A, where a compressor is among them.
    /// The largest load a compressor: 175 % of it (225 % with `hard_start`) and the others whole. Else the compressors
    /// whole, and 250 % of the largest motor with the others whole, or where no motor is left what heat and lasting
    /// loads ask for. Electric heat counts as one load.
    fn with_compressor(&self, edition: Edition, hard_start: bool) -> Option<(f64, Rule)> {
        let all = self.running().value();
        let (compressor, motor) = (largest(&self.compressors), largest(&self.motors));
        let other = motor.max(sum(&self.heat)).max(largest(&self.lasting));
        if compressor >= other {
            let share = if hard_start {
                COMPRESSOR_HARD
            } else {
                COMPRESSOR
            };
            return Some((all + (share - 1.0) * compressor, self.rule()?));
        }
        let others = if self.motors.is_empty() {
            let asked = Current::new(self.least_of_lasting());
            standard_rating_at_or_above(asked, edition)?.value() + sum(&self.compressors)
        } else {
            all + (MOTOR - 1.0) * motor
        };
        Some((others, Rule::OverCompressor))
    }

    /// The breaker. With a compressor 175 % of it (225 % with `hard_start`) and the others whole, or what larger loads
    /// beside it ask for and the compressors whole; down to a standard rating, never under 15 A. One motor: 250 %, up to a standard rating. Several motors: 250 % of the largest and the others whole,
    /// down. Heat and lasting loads: their least ampacity, up; beside motors and compressors the breaker carries 125 %
    /// of them.
    pub fn breaker(&self, edition: Edition, hard_start: bool) -> Option<Breaker> {
        let rule = self.rule()?;
        let above = |a: f64| standard_rating_at_or_above(Current::new(a), edition);
        let below =
            |a: f64| largest_standard_rating_not_above(Current::new(a.max(LEAST_BREAKER)), edition);
        let (computed, own, rule) = match rule {
            Rule::Heat | Rule::Lasting => {
                let computed = self.least_ampacity()?.current.value();
                (computed, above(computed.max(LEAST_BREAKER))?, rule)
            }
            Rule::Motor | Rule::Motors | Rule::SmallMotors => {
                let computed = self.running().value() + (MOTOR - 1.0) * largest(&self.motors);
                let own = if rule == Rule::Motor {
                    above(computed.max(LEAST_BREAKER))?
                } else {
                    below(computed)?
                };
                (computed, own, rule)
            }
            _ => {
                let (computed, rule) = self.with_compressor(edition, hard_start)?;
                (computed, below(computed)?, rule)
            }
        };
        let least = above(self.least_of_lasting())?;
        let rating = Current::new(own.value().max(least.value()));
        Some(Breaker {
            computed: Current::new(computed),
            rating,
            rule,
        })
    }

    /// The largest breaker that the loads allow: [`Loads::breaker`], save that motors up to 6 A may stand on a general
    /// circuit of 20 A at 120 V or 15 A at more (430.53(A)).
    pub fn most_breaker(
        &self,
        supply: Voltage,
        edition: Edition,
        hard_start: bool,
    ) -> Option<Breaker> {
        let own = self.breaker(edition, hard_start)?;
        let general = if supply.value() <= 125.0 {
            20.0
        } else {
            LEAST_BREAKER
        };
        let motors = matches!(own.rule, Rule::Motor | Rule::Motors);
        let small = motors && largest(&self.motors) <= SMALL_MOTOR;
        if !small || own.rating.value() >= general {
            return Some(own);
        }
        Some(Breaker {
            rating: Current::new(general),
            rule: Rule::SmallMotors,
            ..own
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
        let found = loads.breaker(Edition::default(), hard).unwrap();
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
            let most = loads.most_breaker(Voltage::new(volts), Edition::new(2023), false);
            let most = most.unwrap();
            (
                most.rating.value(),
                most.rule.of_breaker(Edition::default()),
            )
        };
        assert_eq!(at(120.0), (20.0, "430.53(A)"));
        assert_eq!(at(240.0), (15.0, "430.52(C)(1), Table 430.52"));
        // Chosen for it alone: 1.5 A and 15 A, the least breaker of a house.
        assert_eq!(breaker(&loads, false), (1.5, 15.0));
        assert_eq!(breaker(&of(&[], &[6.0], &[]), false), (15.0, 15.0));
        let large = of(&[], &[6.1], &[]);
        // 15.25 A, the next one above.
        assert!((breaker(&large, false).1 - 20.0).abs() < 1e-9);
    }

    /// 440.22(B)(2): the heat is the larger load: 5 A and what 125 % of 40 A asks for, 55 A, down; with the compressor
    /// as the largest load (B)(1): 1.75 × 20 + 10 = 45 A.
    #[test]
    fn heat_beside_a_compressor_keeps_its_quarter_more() {
        let heat = of(&[5.0], &[], &[40.0]);
        assert_eq!(breaker(&heat, false), (55.0, 50.0));
        let rule = heat.breaker(Edition::default(), false).unwrap().rule;
        assert_eq!(
            rule.of_breaker(Edition::default()),
            "440.22(B)(2), 424.4(B), 210.20(A)"
        );
        assert_eq!(breaker(&of(&[20.0], &[], &[10.0]), false), (45.0, 45.0));
        // Three heaters are one load: 10 + 35, where each alone is less than the compressor.
        assert_eq!(
            breaker(&of(&[10.0], &[], &[9.0, 9.0, 9.0]), false),
            (45.0, 45.0)
        );
        // A motor of the heat counts with it: 125 % of 43 A is 53.75 A, though 5 + 7.5 + 40 allow no more than 50.
        assert_eq!(breaker(&of(&[5.0], &[3.0], &[40.0]), false), (52.5, 60.0));
    }

    #[test]
    fn a_motor_leaves_lasting_loads_their_quarter_more() {
        let loads = Loads {
            motors: amperes(&[1.0]),
            lasting: amperes(&[40.0]),
            ..Loads::default()
        };
        // 430.53(C)(4) allows 42.5 A, which 125 % of 40 A is over.
        assert_eq!(breaker(&loads, false), (42.5, 50.0));
    }

    #[test]
    fn nothing_asks_for_nothing() {
        let none = Loads::default();
        assert!(none.is_empty() && none.least_ampacity().is_none());
        assert!(none.breaker(Edition::default(), false).is_none());
    }
}
