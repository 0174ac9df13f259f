//! The circuit of one unit as a network, with what each coefficient hangs on.

use crate::model::AirHandler;
use crate::physics::air::DuctAir;
use crate::physics::duct::{Section, velocity_pressure};
use crate::physics::network::{Drive, Network, Node, Segment, Source};
use crate::quantity::{AirFlow, Area, Density, Length, Pressure, Viscosity};
use crate::source::Span;

use super::back::Back;
use super::split::{Leaves, Link};

/// The rooms, all at one pressure.
pub(super) const ROOM: usize = 0;
/// The unit's supply opening.
pub(super) const PLENUM: usize = 1;
/// The unit's return opening.
pub(super) const RETURN: usize = 2;

/// A run in the circuit.
#[derive(Clone, Debug)]
pub(super) struct RunPart {
    pub(super) name: String,
    pub(super) segment: usize,
    /// The words that its loss rests on.
    pub(super) rests: Vec<(Span, String)>,
    /// Inside diameter of its tube.
    pub(super) inside: Length,
    /// Loss coefficient of its orifice, where it has one.
    pub(super) orifice: Option<f64>,
    /// The least airflow that the catalog names its tube for.
    pub(super) least: Option<(AirFlow, Span)>,
    /// Its outlet, with the least airflow that the catalog names it for and how far that mixes.
    pub(super) outlet: Option<(String, AirFlow, Length, Span)>,
    /// Its outlet's name and the free area that the catalog states for it.
    pub(super) free: Option<(String, Area, Span)>,
}

/// A circuit as drawn, before air and tap are chosen.
#[derive(Clone, Debug)]
pub(in crate::systems) struct Circuit {
    pub(super) nodes: Vec<Node>,
    pub(super) segments: Vec<Segment>,
    pub(super) links: Vec<Link>,
    /// The words that a segment was read from.
    pub(super) spans: Vec<Span>,
    /// Its runs.
    pub(super) runs: Vec<RunPart>,
    /// Trunk, from station to station, segment.
    pub(super) trunk_segments: Vec<(String, Length, Length, usize)>,
    /// Return, its segment, its parts.
    pub(super) returns: Vec<(Back, usize)>,
    /// Words that the trunk's losses rest on, each once.
    pub(super) trunk_rests: Vec<(Span, String)>,
}

impl Circuit {
    pub(super) fn new() -> Self {
        let node = |id: &str, fixed| Node {
            id: id.to_owned(),
            fixed,
        };
        Self {
            nodes: vec![
                node("the rooms", Some(Pressure::new(0.0))),
                node("the plenum", None),
                node("the return opening", None),
            ],
            segments: Vec::new(),
            links: Vec::new(),
            spans: Vec::new(),
            runs: Vec::new(),
            trunk_segments: Vec::new(),
            returns: Vec::new(),
            trunk_rests: Vec::new(),
        }
    }

    pub(super) fn node(&mut self, id: String) -> usize {
        self.nodes.push(Node { id, fixed: None });
        self.nodes.len() - 1
    }

    pub(super) fn rests_on(&mut self, span: Span, words: String) {
        if !self.trunk_rests.iter().any(|(known, _)| *known == span) {
            self.trunk_rests.push((span, words));
        }
    }

    /// Adds a duct and gives its number; what leaves a node by tee or take-off is known to what goes straight on.
    pub(super) fn duct(
        &mut self,
        (id, span): (String, Span),
        (from, to): (usize, usize),
        (section, length, roughness): (Section, Length, Length),
        link: Link,
    ) -> usize {
        self.segments.push(Segment {
            id,
            from,
            to,
            section,
            length,
            roughness,
            // Where the search starts; what hangs on the split is taken from the flows found.
            minor: link.fixed.max(0.05),
            outlet: to == ROOM,
        });
        self.links.push(link);
        self.spans.push(span);
        self.segments.len() - 1
    }

    /// Once all is there: a straight stretch learns what leaves beside it.
    pub(super) fn join(&mut self) {
        for at in 0..self.segments.len() {
            let Some(from) = self.segments.get(at).map(|s| s.from) else {
                continue;
            };
            let beside: Vec<usize> = (0..self.segments.len())
                .filter(|&other| {
                    other != at
                        && self.segments.get(other).is_some_and(|s| s.from == from)
                        && self
                            .links
                            .get(other)
                            .is_some_and(|l| matches!(l.leaves, Leaves::TakeOff | Leaves::Tee(_)))
                })
                .collect();
            if let Some(link) = self.links.get_mut(at)
                && matches!(link.leaves, Leaves::Straight)
            {
                link.beside = beside;
            }
        }
    }

    /// Adds the returns, or one that stands for the unit's own filter alone.
    pub(super) fn add_returns(&mut self, returns: Vec<Back>, unit: &AirHandler, own: bool) {
        let mut returns = returns;
        if returns.is_empty() && own {
            returns.extend(Back::of_own_filter(unit));
        }
        for back in returns {
            let link = Link::new(&back.section, 0.0, Leaves::Plainly, None);
            let id = format!("return {}", back.name);
            let parts = (back.section, Length::ZERO, back.roughness);
            let segment = self.duct((id, back.span), (ROOM, RETURN), parts, link);
            self.returns.push((back, segment));
        }
    }

    /// Velocity pressure of one cfm in a segment.
    pub(super) fn unit_pressure(&self, network: &Network, segment: usize) -> f64 {
        self.segments.get(segment).map_or(1.0, |segment| {
            let speed = segment.section.velocity(AirFlow::new(1.0));
            velocity_pressure(&network.air, speed).value()
        })
    }

    /// The network without blower and air yet.
    pub(super) fn network(&self) -> Network {
        let inlet = if self.returns.is_empty() {
            ROOM
        } else {
            RETURN
        };
        let mut nodes = self.nodes.clone();
        if self.returns.is_empty() {
            // Nothing is drawn on the return side: that opening is the room.
            if let Some(node) = nodes.get_mut(RETURN) {
                node.fixed = Some(Pressure::new(0.0));
            }
        }
        Network {
            air: DuctAir {
                density: Density::new(super::weather::STANDARD_DENSITY),
                viscosity: Viscosity::new(1.222e-5),
            },
            nodes,
            segments: self.segments.clone(),
            source: Source {
                inlet,
                outlet: PLENUM,
                drive: Drive::Flow(AirFlow::new(0.0)),
            },
        }
    }
}
