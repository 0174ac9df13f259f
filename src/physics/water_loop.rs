//! A heating loop: what its pipes, fittings and coils lose, what its circulators give, and where the two meet.
//!
//! Heads are heights of the liquid in the loop, feet; flows US gallons per minute. Ways side by side have one head
//! between them. Sources: Darcy–Weisbach (`pipe_flow.rs`); fittings as equivalent lengths of pipe, Crane TP-410.

use super::pipe_flow::pipe_flow;
use super::root::halve;
use super::water::Water;
use crate::quantity::{Length, Pressure, Velocity, WaterFlow};

/// Equivalent length over diameter of a right-angle elbow: Crane TP-410, standard elbow.
pub const ELBOW: f64 = 30.0;
/// Of a ball valve, full bore: Crane TP-410.
pub const VALVE: f64 = 3.0;
/// Of a tee in line, as a vent stands on: Crane TP-410.
pub const TEE: f64 = 20.0;
/// Of a flow check: Crane TP-410, swing check.
pub const FLOW_CHECK: f64 = 100.0;

/// A stretch of one pipe with its fittings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// Inside diameter.
    pub inside: Length,
    /// Roughness.
    pub roughness: Length,
    /// Length along the tape.
    pub length: Length,
    /// Sum of its fittings' equivalent lengths over diameter.
    pub fittings: f64,
    /// Sum of loss coefficients beside them (changes of size), on its own velocity.
    pub changes: f64,
}

impl Stretch {
    /// Head lost at a flow, ft; none for a pipe without bore.
    pub fn loss(&self, liquid: &Water, flow: f64) -> Option<f64> {
        let found = pipe_flow(
            self.inside,
            self.roughness,
            liquid,
            WaterFlow::new(flow.abs()),
        )?;
        let velocity = found.velocity_head.value() / 12.0;
        let factor = found.darcy.unwrap_or(0.0);
        let straight = found.friction(self.length).value() / 12.0;
        Some((straight + (factor * self.fittings + self.changes) * velocity).copysign(flow))
    }

    /// Mean velocity at a flow.
    pub fn velocity(&self, flow: f64) -> Option<Velocity> {
        let feet = self.inside.to_feet();
        let area = std::f64::consts::FRAC_PI_4 * feet * feet;
        (area > 0.0).then(|| Velocity::new(flow * 231.0 / 1728.0 / area))
    }
}

/// A coil's or boiler's loss known at one flow: (flow/known)^1.75, with the liquid's density to 0.75 and viscosity
/// to 0.25 (Blasius, smooth tube).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KnownLoss {
    /// The flow it is known at, gpm.
    pub flow: f64,
    /// The loss there.
    pub loss: Pressure,
    /// The liquid there.
    pub liquid: Water,
}

impl KnownLoss {
    /// Head lost at another flow of another liquid, ft of that liquid.
    pub fn loss(&self, liquid: &Water, flow: f64) -> f64 {
        let ratio = (flow / self.flow).abs();
        let density = liquid.density / self.liquid.density;
        let viscosity = liquid.viscosity / self.liquid.viscosity;
        let psi = self.loss.psi()
            * libm::pow(ratio, 1.75)
            * libm::pow(density, 0.75)
            * libm::pow(viscosity, 0.25);
        (psi * 144.0 / liquid.density.value()).copysign(flow)
    }
}

/// A circulator's curve: straight lines between points of flow and head, flow rising.
#[derive(Clone, Debug, PartialEq)]
pub struct PumpCurve {
    points: Vec<(f64, f64)>,
}

impl PumpCurve {
    /// From points of flow, gpm, and pressure; the head is that of water at 60 °F, as curves are drawn. None for
    /// fewer than two points, or two of one flow.
    pub fn new(points: impl IntoIterator<Item = (WaterFlow, Pressure)>) -> Option<Self> {
        let mut points: Vec<(f64, f64)> = points
            .into_iter()
            .map(|(flow, pressure)| (flow.value(), pressure.psi() * 144.0 / 62.37))
            .collect();
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        let rising = points.windows(2).all(|pair| match pair {
            [a, b] => a.0 < b.0,
            _ => true,
        });
        (points.len() >= 2 && rising).then_some(Self { points })
    }

    /// The least and the greatest flow of its points.
    pub fn reach(&self) -> (f64, f64) {
        let flow = |point: Option<&(f64, f64)>| point.map_or(0.0, |point| point.0);
        (flow(self.points.first()), flow(self.points.last()))
    }

    /// Head at a flow: its first below its points, its last line carried on beyond them, so that it never rises.
    pub fn head(&self, flow: f64) -> f64 {
        let (Some(first), Some(last)) = (self.points.first(), self.points.last()) else {
            return 0.0;
        };
        if flow <= first.0 {
            return first.1;
        }
        let line = |a: (f64, f64), b: (f64, f64)| a.1 + (b.1 - a.1) * (flow - a.0) / (b.0 - a.0);
        let held = self.points.windows(2).find_map(|pair| match pair {
            [a, b] if flow <= b.0 => Some(line(*a, *b)),
            _ => None,
        });
        held.unwrap_or_else(|| match self.points.as_slice() {
            [.., a, b] => line(*a, *b).min(last.1),
            _ => last.1,
        })
    }
}

/// A part of a loop.
#[derive(Clone, Debug, PartialEq)]
pub enum Part {
    /// A pipe: its stretches, and the circulators in it.
    Pipe(Vec<Stretch>, Vec<PumpCurve>),
    /// A coil or boiler.
    Known(KnownLoss),
    /// Something without a loss of its own.
    Free,
    /// Ways side by side.
    Fork(Vec<Vec<Part>>),
}

/// A solved part: its flow, gpm, and the head it loses net of what its circulators give, ft.
#[derive(Clone, Debug, PartialEq)]
pub struct Solved {
    /// Flow.
    pub flow: f64,
    /// Head lost in pipe, fittings or coil.
    pub lost: f64,
    /// Head given by circulators in it.
    pub given: f64,
    /// The parts of each way, for ways side by side.
    pub ways: Vec<Vec<Solved>>,
}

/// Why a loop has no flow.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoFlow {
    /// No circulator stands in it.
    NoCirculator,
    /// A circulator would have to work at less flow than its curve shows: the loop asks for more head than it has.
    TooTight,
    /// A circulator would have to work at more flow than its curve shows.
    PastEnd,
    /// A pipe has no bore.
    NoBore,
}

/// More than any house moves, gpm.
const MOST_FLOW: f64 = 1000.0;

fn net(parts: &[Part], liquid: &Water, flow: f64) -> Option<f64> {
    let mut sum = 0.0;
    for part in parts {
        sum += match part {
            Part::Pipe(stretches, pumps) => {
                let mut lost = 0.0;
                for stretch in stretches {
                    lost += stretch.loss(liquid, flow)?;
                }
                lost - pumps.iter().map(|pump| pump.head(flow)).sum::<f64>()
            }
            Part::Known(known) => known.loss(liquid, flow),
            Part::Free => 0.0,
            Part::Fork(ways) => between(ways, liquid, flow)?,
        };
    }
    Some(sum)
}

/// The flow of one way with a head between its ends; none flows backward.
fn through(way: &[Part], liquid: &Water, head: f64, most: f64) -> Option<f64> {
    net(way, liquid, 0.0)?;
    let above = |flow: f64| net(way, liquid, flow).is_none_or(|lost| lost > head);
    Some(halve(0.0, most, 1e-7, above))
}

/// The head between the ends of ways side by side that carry a flow together.
fn between(ways: &[Vec<Part>], liquid: &Water, flow: f64) -> Option<f64> {
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for way in ways {
        low = low.min(net(way, liquid, 0.0)?);
        high = high.max(net(way, liquid, flow)?);
    }
    let carries = |head: f64| {
        ways.iter()
            .filter_map(|way| through(way, liquid, head, flow))
            .sum::<f64>()
    };
    Some(if low < high {
        halve(low, high, 1e-7, |head| carries(head) > flow)
    } else {
        high
    })
}

fn settle(parts: &[Part], liquid: &Water, flow: f64) -> Result<Vec<Solved>, NoFlow> {
    let mut out = Vec::new();
    for part in parts {
        let (mut lost, mut given, mut ways) = (0.0, 0.0, Vec::new());
        match part {
            Part::Pipe(stretches, pumps) => {
                for stretch in stretches {
                    lost += stretch.loss(liquid, flow).ok_or(NoFlow::NoBore)?;
                }
                for pump in pumps {
                    let (least, most) = pump.reach();
                    if flow < least {
                        return Err(NoFlow::TooTight);
                    }
                    if flow > most {
                        return Err(NoFlow::PastEnd);
                    }
                    given += pump.head(flow);
                }
            }
            Part::Known(known) => lost = known.loss(liquid, flow),
            Part::Free => {}
            Part::Fork(side) => {
                lost = between(side, liquid, flow).ok_or(NoFlow::NoBore)?;
                for way in side {
                    let own = through(way, liquid, lost, flow).ok_or(NoFlow::NoBore)?;
                    ways.push(settle(way, liquid, own)?);
                }
            }
        }
        out.push(Solved {
            flow,
            lost,
            given,
            ways,
        });
    }
    Ok(out)
}

/// The flow at which a loop loses what its circulators give, and every part at that flow.
pub fn solve(parts: &[Part], liquid: &Water) -> Result<Vec<Solved>, NoFlow> {
    let at_rest = net(parts, liquid, 0.0).ok_or(NoFlow::NoBore)?;
    if at_rest >= 0.0 {
        return Err(NoFlow::NoCirculator);
    }
    let above = |flow: f64| net(parts, liquid, flow).is_none_or(|lost| lost > 0.0);
    let mut most = 4.0_f64;
    while most < MOST_FLOW && !above(most) {
        most *= 2.0;
    }
    let flow = halve(0.0, most, 1e-6, above);
    settle(parts, liquid, flow)
}

/// What pipe is made of, as far as warmth changes its length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Metal {
    /// Copper.
    Copper,
    /// Steel.
    Steel,
    /// Cross-linked polyethylene.
    Pex,
}

impl Metal {
    /// Growth per length and °F. Sources: copper and steel, ASHRAE Handbook—HVAC Systems and Equipment (9.5 and 6.3
    /// millionths; from memory); PEX about 1.1 in. in 100 ft for 10 °F, PPI TN-17, from memory.
    const fn growth(self) -> f64 {
        match self {
            Self::Copper => 9.5e-6,
            Self::Steel => 6.3e-6,
            Self::Pex => 9.2e-5,
        }
    }
}

/// How much longer a straight pipe gets, warmed by some degrees.
pub fn growth(metal: Metal, length: Length, degrees: f64) -> Length {
    Length::nearest(length.to_inches() * metal.growth() * degrees)
}

/// Heat that one foot of pipe loses for each degree, Btu/(h·ft·°F): insulation of a flat resistance around it and
/// still air outside, 1.46 Btu/(h·ft²·°F), the pipe and the water's film left out. Source: ASHRAE Handbook—
/// Fundamentals, Heat Transfer; film from memory.
pub fn loss_per_foot(outside: Length, insulation: f64) -> f64 {
    let around = std::f64::consts::PI * outside.to_feet();
    around / (insulation.max(0.0) + 1.0 / 1.46)
}

/// Pressure that holds water at a height above a gauge, with what keeps air out at the top, psi: 0.433 psi for each
/// foot of cold water and 4 psi over it, common practice.
pub fn fill_pressure(height: Length) -> f64 {
    height.to_feet().max(0.0) * 62.37 / 144.0 + FILL_MARGIN
}

/// What the highest point is to have over the air's pressure, psi: common practice.
pub const FILL_MARGIN: f64 = 4.0;

#[cfg(test)]
mod tests {
    use super::super::water::CLOSED_LOOP;
    use super::*;
    use crate::quantity::Temperature;

    fn water(f: f64) -> Water {
        Water::at(Temperature::new(f), CLOSED_LOOP).unwrap()
    }

    fn pipe(feet: i64) -> Stretch {
        Stretch {
            inside: Length::nearest(0.785),
            roughness: Length::nearest(6e-5),
            length: Length::feet(feet),
            fittings: 0.0,
            changes: 0.0,
        }
    }

    fn curve(points: &[(f64, f64)]) -> PumpCurve {
        let points = points.iter().map(|(flow, feet)| {
            (
                WaterFlow::new(*flow),
                Pressure::from_psi(feet * 62.37 / 144.0),
            )
        });
        PumpCurve::new(points).unwrap()
    }

    /// Row WV09 of the reference table: 4 gpm at 180 °F in 3/4 in copper L loses 3.6092 ft in 100 ft.
    #[test]
    fn a_loop_runs_where_its_loss_is_what_the_curve_gives() {
        let level = 3.609_207_643;
        let flat = curve(&[(1.0, level), (12.0, level - 1e-9)]);
        let solved = solve(&[Part::Pipe(vec![pipe(100)], vec![flat])], &water(180.0)).unwrap();
        assert!((solved[0].flow - 4.0).abs() < 1e-3, "{}", solved[0].flow);
        assert!((solved[0].lost - level).abs() < 1e-4);
    }

    #[test]
    fn two_like_ways_share_the_flow_and_two_in_line_add_up() {
        let pump = curve(&[(0.0, 12.0), (8.0, 8.0), (20.0, 0.0)]);
        let way = || vec![Part::Pipe(vec![pipe(60)], vec![])];
        let trunk = Part::Pipe(vec![], vec![pump.clone()]);
        let side = solve(&[trunk, Part::Fork(vec![way(), way()])], &water(180.0)).unwrap();
        let (whole, one) = (side[0].flow, side[1].ways[0][0].flow);
        assert!((one - whole / 2.0).abs() < 1e-4);
        // What one way loses alone at half the flow, the pump gives at the whole.
        let lost = pipe(60).loss(&water(180.0), whole / 2.0).unwrap();
        assert!((lost - pump.head(whole)).abs() < 1e-4);
        let line = solve(
            &[Part::Pipe(vec![pipe(60), pipe(60)], vec![pump])],
            &water(180.0),
        )
        .unwrap();
        assert!(line[0].flow < one);
    }

    #[test]
    fn a_pump_of_its_own_in_each_way_leaves_the_others_alone() {
        let pump = curve(&[(0.0, 12.0), (8.0, 8.0), (20.0, 0.0)]);
        let way = |feet| vec![Part::Pipe(vec![pipe(feet)], vec![pump.clone()])];
        let both = solve(&[Part::Fork(vec![way(60), way(120)])], &water(180.0)).unwrap();
        for (n, feet) in [60, 120].into_iter().enumerate() {
            let alone = solve(&way(feet), &water(180.0)).unwrap();
            assert!((both[0].ways[n][0].flow - alone[0].flow).abs() < 1e-3);
        }
    }

    #[test]
    fn curves_that_never_meet_say_which_end_is_missing() {
        let pump = || curve(&[(3.0, 4.0), (9.0, 1.0)]);
        let one = |feet| Part::Pipe(vec![pipe(feet)], vec![pump()]);
        assert_eq!(solve(&[one(4000)], &water(180.0)), Err(NoFlow::TooTight));
        assert_eq!(solve(&[one(1)], &water(180.0)), Err(NoFlow::PastEnd));
        let none = Part::Pipe(vec![pipe(10)], vec![]);
        assert_eq!(solve(&[none], &water(180.0)), Err(NoFlow::NoCirculator));
    }

    #[test]
    fn a_coil_s_loss_is_the_known_one_at_its_flow_and_glycol_adds_to_it() {
        let known = KnownLoss {
            flow: 4.0,
            loss: Pressure::from_psi(1.5),
            liquid: water(180.0),
        };
        let feet = 1.5 * 144.0 / water(180.0).density.value();
        assert!((known.loss(&water(180.0), 4.0) - feet).abs() < 1e-9);
        assert!((known.loss(&water(180.0), 8.0) / feet - 3.3636).abs() < 1e-3);
        let mixed = super::super::fluid::Fluid::read("PG40")
            .unwrap()
            .at(Temperature::new(180.0), CLOSED_LOOP)
            .unwrap();
        assert!(known.loss(&mixed, 4.0) > feet * 1.1);
    }

    /// The trade's figure: copper grows about 1 1/8 in. in 100 ft for 100 °F.
    #[test]
    fn copper_grows_as_the_trade_says() {
        let grown = growth(Metal::Copper, Length::feet(100), 100.0).to_inches();
        assert!((grown - 1.14).abs() < 0.02, "{grown}");
        assert!(growth(Metal::Pex, Length::feet(100), 10.0).to_inches() > 1.0);
    }

    #[test]
    fn water_thirty_feet_up_takes_seventeen_pounds() {
        assert!((fill_pressure(Length::feet(30)) - 16.99).abs() < 0.01);
        assert!((fill_pressure(-Length::feet(3)) - 4.0).abs() < 1e-12);
    }

    proptest::proptest! {
        /// The solved flow meets the curve wherever there is one, and longer pipe never carries more.
        #[test]
        fn longer_loops_flow_less(feet in 20..400_i64, head in 6.0..24.0_f64, f in 60.0..200.0_f64) {
            let pump = || curve(&[(0.0, head), (10.0, head * 0.6), (30.0, 0.0)]);
            let at = |feet| solve(&[Part::Pipe(vec![pipe(feet)], vec![pump()])], &water(f)).map(|s| s[0].clone());
            let (one, more) = (at(feet).unwrap(), at(feet + 10).unwrap());
            proptest::prop_assert!(more.flow < one.flow);
            proptest::prop_assert!((one.lost - one.given).abs() < 1e-3);
        }
    }
}
