//! Finds flows and pressures: Newton's method on what all segments and the blower dissipate.
//!
//! Losses rise with flow, so that this sum is convex and has one least place; a step that overshoots
//! is shortened until it does not, and the search ends from any start. Flow balance holds at every step.

#![expect(
    clippy::indexing_slicing,
    reason = "every index is a node or segment of the network being solved"
)]

use super::elimination::Elimination;
use super::graph::Graph;
use super::resistance::Resistance;
use super::{Drive, FanCurve, Network, Solution, Unsolvable};
use crate::quantity::{AirFlow, Pressure};

/// Share of the largest pressure that may be left over.
const ENOUGH: f64 = 1e-12;
/// What is accepted when no further step makes it smaller.
const TOLERABLE: f64 = 1e-10;
/// Far more steps than any network has been seen to take.
const MOST_STEPS: u32 = 300;

struct Search<'a> {
    graph: Graph,
    order: Elimination,
    parts: Vec<Resistance>,
    fan: Option<&'a FanCurve>,
    /// Free numbers of the source's inlet and outlet.
    inlet: Option<usize>,
    outlet: Option<usize>,
    /// Held pressure of outlet less inlet, where they are ground.
    held: f64,
    source_flow: f64,
    flows: Vec<f64>,
    losses: Vec<f64>,
    slopes: Vec<f64>,
    pressures: Vec<f64>,
    flow_scale: f64,
}

/// A direction of search.
struct Step {
    source: f64,
    flows: Vec<f64>,
    /// Slope of what is minimised along the step; below zero.
    descent: f64,
}

/// Solves a network: flows and pressures with the residual left, or every reason found why there are none.
pub fn solve(network: &Network) -> Result<Solution, Vec<Unsolvable>> {
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
    let mut search = Search::new(network, parts, flow)?;
    search.begin();
    let (residual, steps) = search.descend()?;
    search.check_curve()?;
    Ok(search.solution(network, residual, steps))
}

impl<'a> Search<'a> {
    fn new(
        network: &'a Network,
        mut parts: Vec<Resistance>,
        flow: f64,
    ) -> Result<Self, Vec<Unsolvable>> {
        let scale = flow.abs().max(1e-3);
        let mut likely = Vec::with_capacity(parts.len());
        for part in &mut parts {
            part.count_from(scale * 1e-12);
            let flow = part.likely_flow();
            likely.push(part.at(flow).0 / flow);
        }
        let graph = Graph::of(network)?;
        let count = graph.free.iter().flatten().count();
        let order = Elimination::of(count, &graph.edges);
        let source = &network.source;
        let held = |node: usize| network.nodes[node].fixed.map_or(0.0, Pressure::value);
        let edges = parts.len();
        Ok(Self {
            inlet: graph.free[source.inlet],
            outlet: graph.free[source.outlet],
            held: held(source.outlet) - held(source.inlet),
            fan: match &source.drive {
                Drive::Fan(curve) => Some(curve),
                Drive::Flow(_) => None,
            },
            source_flow: flow,
            flows: vec![0.0; edges],
            losses: vec![0.0; edges],
            slopes: likely,
            pressures: vec![0.0; count],
            flow_scale: scale,
            graph,
            order,
            parts,
        })
    }

    /// Puts a flow into the source's outlet and takes it from its inlet.
    fn put(&self, flow: f64, into: &mut [f64]) {
        if let Some(node) = self.outlet {
            into[node] += flow;
        }
        if let Some(node) = self.inlet {
            into[node] -= flow;
        }
    }

    /// Flows that balance, as if every loss were proportional to flow: twice, the second time with the
    /// proportions of the first.
    fn begin(&mut self) {
        for _ in 0..2 {
            let conductance: Vec<f64> = self.slopes.iter().map(|r| 1.0 / r).collect();
            self.order.factor(&self.graph.edges, &conductance);
            let mut p = vec![0.0; self.pressures.len()];
            self.put(self.source_flow, &mut p);
            for (edge, g) in self.graph.edges.iter().zip(&conductance) {
                if let Some(node) = edge.from {
                    p[node] -= g * edge.held;
                }
                if let Some(node) = edge.to {
                    p[node] += g * edge.held;
                }
            }
            self.order.solve(&mut p);
            for (at, g) in conductance.iter().enumerate() {
                self.flows[at] = g * self.drop(at, &p, self.graph.edges[at].held);
            }
            let floor = self.flow_scale * 1e-9;
            for (at, part) in self.parts.iter_mut().enumerate() {
                let flow = self.flows[at].abs().max(floor);
                self.slopes[at] = part.at(flow).0 / flow;
            }
        }
        self.lay();
    }

    /// Lays the tree anew for the present flows, and evaluates them.
    fn lay(&mut self) {
        for (at, part) in self.parts.iter_mut().enumerate() {
            self.slopes[at] = part.at(self.flows[at]).1;
        }
        self.graph.lay(&self.slopes);
        let mut flows = std::mem::take(&mut self.flows);
        self.balance(self.source_flow, &mut flows);
        self.flows = flows;
        self.evaluate();
    }

    /// Pressure of an edge's `from` less its `to`, with `held` for its ground ends.
    fn drop(&self, at: usize, pressures: &[f64], held: f64) -> f64 {
        let edge = &self.graph.edges[at];
        let of = |node: Option<usize>| node.map_or(0.0, |node| pressures[node]);
        held + of(edge.from) - of(edge.to)
    }

    /// Fills in the flows of the tree from those of the chords and the source: balance at every node.
    fn balance(&self, source: f64, flows: &mut [f64]) {
        let mut surplus = vec![0.0; self.pressures.len()];
        self.put(source, &mut surplus);
        for &at in &self.graph.chords {
            let edge = &self.graph.edges[at];
            if let Some(node) = edge.from {
                surplus[node] -= flows[at];
            }
            if let Some(node) = edge.to {
                surplus[node] += flows[at];
            }
        }
        for way in self.graph.ways.iter().rev() {
            let flow = surplus[way.node];
            flows[way.edge] = if way.forward { flow } else { -flow };
            if let Some(next) = way.next {
                surplus[next] += flow;
            }
        }
    }

    /// Losses and slopes at the present flows, and pressures along the tree.
    fn evaluate(&mut self) {
        for (at, part) in self.parts.iter_mut().enumerate() {
            (self.losses[at], self.slopes[at]) = part.at(self.flows[at]);
        }
        self.lay_pressures();
    }

    fn lay_pressures(&mut self) {
        for way in &self.graph.ways {
            let edge = &self.graph.edges[way.edge];
            let base = way.next.map_or(0.0, |next| self.pressures[next]);
            let loss = self.losses[way.edge] - edge.held;
            self.pressures[way.node] = if way.forward {
                base + loss
            } else {
                base - loss
            };
        }
    }

    /// What does not close: pressure of the ends less loss, zero along the tree.
    fn open(&self, at: usize) -> f64 {
        self.drop(at, &self.pressures, self.graph.edges[at].held) - self.losses[at]
    }

    /// Pressure across the source.
    fn rise(&self, pressures: &[f64], held: f64) -> f64 {
        let of = |node: Option<usize>| node.map_or(0.0, |node| pressures[node]);
        held + of(self.outlet) - of(self.inlet)
    }

    /// The largest pressure that does not close, and the largest pressure.
    fn residual(&self) -> (f64, f64) {
        let mut open = 0.0_f64;
        for &at in &self.graph.chords {
            open = open.max(self.open(at).abs());
        }
        let rise = self.rise(&self.pressures, self.held);
        if let Some(fan) = self.fan {
            let (at, slope) = fan.at(self.source_flow);
            // A blower that blows free meets the system in the last digits of its curve.
            let digits =
                4.0 * f64::EPSILON * (fan.at(0.0).0.abs() + (slope * self.source_flow).abs());
            open = open.max((at - rise).abs() - digits);
        }
        let largest = self
            .pressures
            .iter()
            .fold(rise.abs(), |most, p| most.max(p.abs()));
        let largest = self
            .graph
            .edges
            .iter()
            .fold(largest, |most, edge| most.max(edge.held.abs()));
        (open, largest)
    }

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

    /// Steps until what is left over is nothing that counts; the share left over and the steps taken.
    fn descend(&mut self) -> Result<(f64, u32), Vec<Unsolvable>> {
        let share = |(open, largest): (f64, f64)| if open == 0.0 { 0.0 } else { open / largest };
        let mut best = share(self.residual());
        let mut idle = 0;
        for steps in 0..MOST_STEPS {
            if best <= ENOUGH || idle >= 3 && best <= TOLERABLE {
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
    fn check_curve(&self) -> Result<(), Vec<Unsolvable>> {
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

    fn solution(self, network: &Network, residual: f64, steps: u32) -> Solution {
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
