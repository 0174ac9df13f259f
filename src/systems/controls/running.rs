//! Runs the control wiring for a call to its fixed point.

use super::circuit::{Circuit, Gate, Load};
use super::state::State;

/// A conductor's end put on another terminal: number of the join, the new terminal.
pub type Move = (usize, usize);

/// Points that conduct to each other, each set with one number.
#[derive(Clone, Debug)]
pub(super) struct Nodes(Vec<usize>);

impl Nodes {
    fn new(size: usize) -> Self {
        Self((0..size).collect())
    }

    /// The number of a point's set.
    pub(super) fn find(&self, point: usize) -> usize {
        let mut at = point;
        while let Some(up) = self.0.get(at).copied().filter(|up| *up != at) {
            at = up;
        }
        at
    }

    /// Whether two points conduct to each other.
    pub(super) fn meet(&self, one: usize, other: usize) -> bool {
        self.find(one) == self.find(other)
    }

    fn join(&mut self, one: usize, other: usize) {
        let (one, other) = (self.find(one), self.find(other));
        if let Some(slot) = self.0.get_mut(one.max(other)) {
            *slot = one.min(other);
        }
    }
}

/// The wiring at rest in one state.
#[derive(Clone, Debug)]
pub struct Running {
    /// Whether each load is fed.
    pub(super) fed: Vec<bool>,
    pub(super) nodes: Nodes,
    /// Whether it came to rest; a relay that feeds itself off never does.
    pub(super) steady: bool,
}

impl Running {
    /// Whether a load is fed for good.
    pub fn feeds(&self, load: usize) -> bool {
        self.steady && self.fed.get(load).copied().unwrap_or(false)
    }
}

impl Circuit<'_> {
    fn nodes(&self, state: &State, fed: &[bool], before: &Nodes, moved: Option<Move>) -> Nodes {
        let mut nodes = Nodes::new(self.size);
        for (n, join) in self.net.joins().iter().enumerate() {
            match moved.filter(|(wire, _)| *wire == n) {
                Some((_, to)) => nodes.join(self.net.wire_side(join), to),
                None => nodes.join(join.one, join.other),
            }
        }
        for [one, other] in &self.ties {
            nodes.join(*one, *other);
        }
        let is_fed = |load: usize| fed.get(load).copied().unwrap_or(false);
        for contact in &self.contacts {
            let closed = match &contact.gate {
                Gate::Call { unit, call } => state.raises(unit, *call),
                Gate::Coil { relay, rests_open } => {
                    let pulled = self
                        .loads
                        .iter()
                        .position(|load| load.relay == Some(*relay))
                        .is_some_and(is_fed);
                    pulled == *rests_open
                }
                Gate::Board { load, loops } => {
                    is_fed(*load) && loops.iter().all(|[a, b]| before.meet(*a, *b))
                }
            };
            if closed {
                nodes.join(contact.one, contact.other);
            }
        }
        nodes
    }

    fn is_fed(&self, load: &Load, nodes: &Nodes) -> bool {
        self.sources.iter().any(|source| {
            let crossed = nodes.meet(load.at, source.cold) && nodes.meet(load.back, source.hot);
            let straight = nodes.meet(load.at, source.hot) && nodes.meet(load.back, source.cold);
            (straight || crossed) && !nodes.meet(source.hot, source.cold)
        })
    }

    /// Whether a transformer is short-circuited while no one calls: then nothing else can be said.
    pub fn is_shorted(&self) -> bool {
        let Some(rest) = self.states.first() else {
            return false;
        };
        self.is_shorted_in(rest)
    }

    /// Whether the wiring never comes to rest in a state, as when a call that shorts its transformer drops itself out.
    pub fn is_restless(&self, state: &State) -> bool {
        !self.run(state, None).steady
    }

    /// Whether a transformer is short-circuited in a state.
    pub fn is_shorted_in(&self, state: &State) -> bool {
        let nodes = self.run(state, None).nodes;
        self.sources
            .iter()
            .any(|source| nodes.meet(source.hot, source.cold))
    }

    /// Runs the wiring in `state`, all relays dropped out at first.
    pub fn run(&self, state: &State, moved: Option<Move>) -> Running {
        let mut fed = vec![false; self.loads.len()];
        let mut nodes = Nodes::new(self.size);
        // Each turn moves at least one relay; whoever moves back and forth longer than that never rests.
        for _ in 0..=2 * self.loads.len() + 2 {
            let next_nodes = self.nodes(state, &fed, &nodes, moved);
            let next: Vec<bool> = self
                .loads
                .iter()
                .map(|load| self.is_fed(load, &next_nodes))
                .collect();
            let same = next == fed
                && self.contacts.iter().all(|contact| match &contact.gate {
                    Gate::Board { loops, .. } => loops
                        .iter()
                        .all(|[a, b]| nodes.meet(*a, *b) == next_nodes.meet(*a, *b)),
                    _ => true,
                });
            (fed, nodes) = (next, next_nodes);
            if same {
                return Running {
                    fed,
                    nodes,
                    steady: true,
                };
            }
        }
        Running {
            fed,
            nodes,
            steady: false,
        }
    }
}
