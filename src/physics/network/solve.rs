//! Finds flows and pressures: Newton's method on what all segments and the blower dissipate.
//!
//! Losses rise with flow, so that this sum is convex and has one least place; a step that overshoots
//! is shortened until it does not, and the search ends from any start. Flow balance holds at every step.

#![expect(
    clippy::indexing_slicing,
    reason = "every index is a node or segment of the network being solved"
)]

use super::resistance::Resistance;
use super::search::Search;
use super::{Drive, Network, Solution, Unsolvable};
use crate::quantity::{AirFlow, Pressure};

/// Share of the largest pressure that may be left over.
pub(super) const ENOUGH: f64 = 1e-12;
/// What is accepted when no further step makes it smaller.
const TOLERABLE: f64 = 1e-10;
/// Far more steps than any network has been seen to take.
const MOST_STEPS: u32 = 300;

/// A direction of search.
struct Step {
    source: f64,
    flows: Vec<f64>,
    /// Slope of what is minimised along the step; below zero.
    descent: f64,
}

/// Solves a network: flows and pressures with the residual left, or every reason found why there are none.
pub fn solve(network: &Network) -> Result<Solution, Vec<Unsolvable>> {
    let mut search = prepare(network)?;
    search.begin();
    let (residual, steps) = search.descend(ENOUGH)?;
    search.check_curve()?;
    Ok(search.solution(network, residual, steps))
}

/// A search ready to begin, or every reason found why the network has no solution.
pub(super) fn prepare(network: &Network) -> Result<Search<'_>, Vec<Unsolvable>> {
    let mut faults = Vec::new();
    let mut parts = Vec::with_capacity(network.segments.len());
    for segment in &network.segments {
        match Resistance::of(segment, &network.air) {
            Ok(part) => parts.push(part),
            Err(fault) => faults.push(fault),
        }
    }
    let flow = match &network.source.drive {
        Drive::Flow(flow) if flow.value() >= 0.0 && flow.value().is_finite() => flow.value(),
        Drive::Flow(_) => {
            faults.push(Unsolvable::BadFlow);
            0.0
        }
        Drive::Fan(curve) => {
            let (first, last) = curve.ends();
            f64::midpoint(first, last)
        }
    };
    if !faults.is_empty() {
        return Err(faults);
    }
    Search::new(network, parts, flow)
}

impl Search<'_> {
    /// The Newton step from here.
    fn step(&mut self) -> Step {
        let conductance: Vec<f64> = self.slopes.iter().map(|slope| 1.0 / slope).collect();
        self.order.factor(&self.graph.edges, &conductance);
        let mut p = vec![0.0; self.pressures.len()];
        let mut pushed: Vec<(usize, f64)> = Vec::with_capacity(self.graph.chords.len());
        for &at in &self.graph.chords {
            let flow = conductance[at] * self.open(at);
            pushed.push((at, flow));
            let edge = &self.graph.edges[at];
            if let Some(node) = edge.from {
                p[node] -= flow;
            }
            if let Some(node) = edge.to {
                p[node] += flow;
            }
        }
        self.order.solve(&mut p);
        let mut source = 0.0;
        if let Some(fan) = self.fan {
            let mut unit = vec![0.0; p.len()];
            self.put(1.0, &mut unit);
            self.order.solve(&mut unit);
            let (rise, slope) = fan.at(self.source_flow);
            let missing = rise - self.rise(&self.pressures, self.held) - self.rise(&p, 0.0);
            source = missing / (self.rise(&unit, 0.0) - slope);
            for (pressure, unit) in p.iter_mut().zip(&unit) {
                *pressure += source * unit;
            }
        }
        let mut flows = vec![0.0; self.flows.len()];
        for (at, flow) in pushed {
            flows[at] = flow + conductance[at] * self.drop(at, &p, 0.0);
        }
        self.balance(source, &mut flows);
        let descent = self.slope_along(&flows, source);
        Step {
            source,
            flows,
            descent,
        }
    }

    /// Slope of the dissipation along a balanced step: flow times what does not close, summed over the
    /// loops. The tree closes by itself, so that its large pressures never enter the sum.
    fn slope_along(&self, flows: &[f64], source: f64) -> f64 {
        let loops: f64 = self
            .graph
            .chords
            .iter()
            .map(|&at| flows[at] * self.open(at))
            .sum();
        let blower = self.fan.map_or(0.0, |fan| {
            source * (self.rise(&self.pressures, self.held) - fan.at(self.source_flow).0)
        });
        blower - loops
    }

    /// Goes a share of a step from a start; gives the slope there.
    fn go(&mut self, from: &(f64, Vec<f64>), step: &Step, share: f64) -> f64 {
        self.source_flow = from.0 + share * step.source;
        let mut flows = std::mem::take(&mut self.flows);
        for ((flow, start), change) in flows.iter_mut().zip(&from.1).zip(&step.flows) {
            *flow = start + share * change;
        }
        // Rounding of the sum is taken up by the tree again.
        self.balance(self.source_flow, &mut flows);
        self.flows = flows;
        self.evaluate();
        self.slope_along(&step.flows, step.source)
    }

    /// Steps until what is left over is nothing that counts, `enough` as a share of the largest pressure;
    /// the share left over and the steps taken.
    pub(super) fn descend(&mut self, enough: f64) -> Result<(f64, u32), Vec<Unsolvable>> {
        let share = |(open, largest): (f64, f64)| if open == 0.0 { 0.0 } else { open / largest };
        let mut best = share(self.residual());
        let mut idle = 0;
        for steps in 0..MOST_STEPS {
            if best <= enough || idle >= 3 && best <= enough.max(TOLERABLE) {
                return Ok((best, steps));
            }
            let start = (self.source_flow, self.flows.clone());
            let step = self.step();
            let slope = self.go(&start, &step, 1.0);
            if slope > 0.1 * step.descent.abs() {
                self.shorten(&start, &step, slope);
            }
            let now = share(self.residual());
            if now < best * 0.5 {
                idle = 0;
            } else {
                idle += 1;
            }
            best = now;
            if idle == 2 {
                self.lay();
                best = share(self.residual());
            }
        }
        if best <= TOLERABLE {
            return Ok((best, MOST_STEPS));
        }
        Err(vec![Unsolvable::NotFound(best)])
    }

    /// Looks along the step for where the dissipation is least: its slope changes sign there.
    fn shorten(&mut self, start: &(f64, Vec<f64>), step: &Step, slope: f64) {
        let (mut low, mut low_slope) = (0.0, step.descent);
        let (mut high, mut high_slope) = (1.0, slope);
        for turn in 0..60 {
            // Secant and halving in turn: quick on smooth losses, sure on bent ones.
            let middle = if turn % 2 == 0 && high_slope > low_slope {
                low - low_slope * (high - low) / (high_slope - low_slope)
            } else {
                f64::midpoint(low, high)
            };
            let here = self.go(start, step, middle);
            if here.abs() <= 0.1 * step.descent.abs() {
                return;
            }
            if here < 0.0 {
                (low, low_slope) = (middle, here);
            } else {
                (high, high_slope) = (middle, here);
            }
        }
    }

    /// A blower that works outside its curve has no working point that anybody measured.
    pub(super) fn check_curve(&self) -> Result<(), Vec<Unsolvable>> {
        let Some(fan) = self.fan else {
            return Ok(());
        };
        let (first, last) = fan.ends();
        let slack = 1e-9 * (last - first);
        let flow = AirFlow::new(self.source_flow);
        if self.source_flow < first - slack {
            return Err(vec![Unsolvable::BelowCurve(flow, AirFlow::new(first))]);
        }
        if self.source_flow > last + slack {
            return Err(vec![Unsolvable::AboveCurve(flow, AirFlow::new(last))]);
        }
        Ok(())
    }

    pub(super) fn solution(self, network: &Network, residual: f64, steps: u32) -> Solution {
        let pressures = network
            .nodes
            .iter()
            .zip(&self.graph.free)
            .map(|(node, free)| match (node.fixed, free) {
                (Some(held), _) => held,
                (None, Some(at)) => Pressure::new(self.pressures[*at]),
                (None, None) => Pressure::new(0.0),
            })
            .collect();
        Solution {
            source_flow: AirFlow::new(self.source_flow),
            flows: self.flows.into_iter().map(AirFlow::new).collect(),
            pressures,
            residual,
            steps,
        }
    }
}
