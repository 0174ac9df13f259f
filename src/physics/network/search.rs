//! The state of a search: flows that balance at every node, losses, and pressures laid along the tree.

#![expect(
    clippy::indexing_slicing,
    reason = "every index is a node or segment of the network being solved"
)]

use super::elimination::Elimination;
use super::graph::{Edge, Graph};
use super::resistance::Resistance;
use super::{Drive, FanCurve, Network, Unsolvable};
use crate::quantity::{AirFlow, Pressure};

/// A network being solved: its flows balance, its pressures follow along the tree.
#[derive(Clone)]
pub(super) struct Search<'a> {
    pub(super) graph: Graph,
    pub(super) order: Elimination,
    pub(super) parts: Vec<Resistance>,
    pub(super) fan: Option<&'a FanCurve>,
    /// Free numbers of the source's inlet and outlet.
    pub(super) inlet: Option<usize>,
    pub(super) outlet: Option<usize>,
    /// Held pressure of outlet less inlet, where they are ground.
    pub(super) held: f64,
    pub(super) source_flow: f64,
    pub(super) flows: Vec<f64>,
    pub(super) losses: Vec<f64>,
    pub(super) slopes: Vec<f64>,
    pub(super) pressures: Vec<f64>,
    pub(super) flow_scale: f64,
}

impl<'a> Search<'a> {
    pub(super) fn new(
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
    pub(super) fn put(&self, flow: f64, into: &mut [f64]) {
        if let Some(node) = self.outlet {
            into[node] += flow;
        }
        if let Some(node) = self.inlet {
            into[node] -= flow;
        }
    }

    /// Flows that balance, as if every loss were proportional to flow: twice, the second time with the
    /// proportions of the first.
    pub(super) fn begin(&mut self) {
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

    /// Flows that were found for a network like this one; those that do not balance are taken up by the tree.
    pub(super) fn begin_near(&mut self, flows: &[AirFlow]) {
        for (own, flow) in self.flows.iter_mut().zip(flows) {
            *own = flow.value();
        }
        if self.fan.is_some()
            && let Some(node) = self.outlet
        {
            let out = |edge: &Edge, flow: f64| {
                let mut sum = 0.0;
                if edge.from == Some(node) {
                    sum += flow;
                }
                if edge.to == Some(node) {
                    sum -= flow;
                }
                sum
            };
            let edges = self.graph.edges.iter().zip(&self.flows);
            self.source_flow = edges.map(|(edge, flow)| out(edge, *flow)).sum();
        }
        self.lay();
    }

    /// Lays the tree anew for the present flows, and evaluates them.
    pub(super) fn lay(&mut self) {
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
    pub(super) fn drop(&self, at: usize, pressures: &[f64], held: f64) -> f64 {
        let edge = &self.graph.edges[at];
        let of = |node: Option<usize>| node.map_or(0.0, |node| pressures[node]);
        held + of(edge.from) - of(edge.to)
    }

    /// Fills in the flows of the tree from those of the chords and the source: balance at every node.
    pub(super) fn balance(&self, source: f64, flows: &mut [f64]) {
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
    pub(super) fn evaluate(&mut self) {
        for (at, part) in self.parts.iter_mut().enumerate() {
            (self.losses[at], self.slopes[at]) = part.at(self.flows[at]);
        }
        self.lay_pressures();
    }

    pub(super) fn lay_pressures(&mut self) {
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
    pub(super) fn open(&self, at: usize) -> f64 {
        self.drop(at, &self.pressures, self.graph.edges[at].held) - self.losses[at]
    }

    /// Pressure across the source.
    pub(super) fn rise(&self, pressures: &[f64], held: f64) -> f64 {
        let of = |node: Option<usize>| node.map_or(0.0, |node| pressures[node]);
        held + of(self.outlet) - of(self.inlet)
    }

    /// The largest pressure that does not close, and the largest pressure.
    pub(super) fn residual(&self) -> (f64, f64) {
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
}
