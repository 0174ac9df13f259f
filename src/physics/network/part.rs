//! What a network is made of, and what its solution holds.

use super::super::air::DuctAir;
use super::super::duct::{Section, duct_friction};
use super::super::friction::Regime;
use super::FanCurve;
use crate::quantity::{AirFlow, Length, Pressure, Velocity};

/// A place where air meets.
#[derive(Clone, Debug, PartialEq)]
pub struct Node {
    /// Its name.
    pub id: String,
    /// Total pressure, where it is held from outside: a room.
    pub fixed: Option<Pressure>,
}

/// A duct between two nodes.
#[derive(Clone, Debug, PartialEq)]
pub struct Segment {
    /// Its name.
    pub id: String,
    /// The node that flow is counted from.
    pub from: usize,
    /// The node that flow is counted to.
    pub to: usize,
    /// Its inside.
    pub section: Section,
    /// Straight length.
    pub length: Length,
    /// Absolute roughness.
    pub roughness: Length,
    /// Loss coefficient of everything in it, on its own velocity.
    pub minor: f64,
    /// Whether it ends in a room: it is worth nothing without a way to the source.
    pub outlet: bool,
}

/// What moves the air.
#[derive(Clone, Debug, PartialEq)]
pub enum Drive {
    /// A flow, whatever it takes.
    Flow(AirFlow),
    /// A blower curve.
    Fan(FanCurve),
}

/// The blower between two nodes.
#[derive(Clone, Debug, PartialEq)]
pub struct Source {
    /// Where it draws.
    pub inlet: usize,
    /// Where it blows.
    pub outlet: usize,
    /// What moves the air.
    pub drive: Drive,
}

/// A network as drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Network {
    /// The same everywhere.
    pub air: DuctAir,
    /// Named by their place in this list.
    pub nodes: Vec<Node>,
    /// Between them.
    pub segments: Vec<Segment>,
    /// The one blower.
    pub source: Source,
}

/// Flows and pressures that satisfy every part.
#[derive(Clone, Debug, PartialEq)]
pub struct Solution {
    /// Through the source, from inlet to outlet.
    pub source_flow: AirFlow,
    /// Of each segment, from its `from` to its `to`.
    pub flows: Vec<AirFlow>,
    /// Total pressure of each node.
    pub pressures: Vec<Pressure>,
    /// Largest pressure that does not close around any loop, over the largest pressure.
    pub residual: f64,
    /// Steps taken.
    pub steps: u32,
}

/// A segment at its solved flow; losses carry the sign of the flow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SegmentState {
    /// Mean velocity.
    pub velocity: Velocity,
    /// Without sign.
    pub reynolds: f64,
    /// How the air flows.
    pub regime: Regime,
    /// Darcy factor; none when the air stands.
    pub darcy: Option<f64>,
    /// Along the length.
    pub friction: Pressure,
    /// In everything else.
    pub minor: Pressure,
}

impl Segment {
    /// Its state at a flow.
    pub fn state(&self, air: &DuctAir, flow: AirFlow) -> SegmentState {
        let sign = if flow.value() < 0.0 { -1.0 } else { 1.0 };
        let found = duct_friction(&self.section, self.roughness, air, flow);
        SegmentState {
            velocity: found.velocity,
            reynolds: found.reynolds,
            regime: found.regime,
            darcy: found.darcy,
            friction: found.per_100_ft * (sign * self.length.to_feet() / 100.0),
            minor: found.velocity_pressure * (sign * self.minor),
        }
    }
}
