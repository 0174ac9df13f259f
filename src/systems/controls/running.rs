//! Runs the control wiring for a call to its rest, safeties untripped.

use crate::physics::switching::{Drawn, Rest, Trial};

use super::circuit::{Circuit, Input};
use super::state::State;

/// A conductor's end put on another terminal: number of the join, the new terminal.
pub type Move = (usize, usize);

/// The wiring at rest in one state.
#[derive(Clone, Debug)]
pub struct Running {
    rest: Rest,
    net_of: Vec<usize>,
}

impl Running {
    /// Whether a load is fed for good.
    pub fn feeds(&self, load: usize) -> bool {
        self.rest.steady && self.rest.fed.get(load).copied().unwrap_or(false)
    }

    /// Whether a transformer with these sides gives voltage: at rest, and its sides apart.
    pub(super) fn is_source(&self, hot: usize, cold: usize) -> bool {
        self.rest.steady && !self.meet(hot, cold)
    }

    /// Whether two points conduct to each other.
    pub(super) fn meet(&self, one: usize, other: usize) -> bool {
        match (self.net_of.get(one), self.net_of.get(other)) {
            (Some(one), Some(other)) => self.rest.meet(*one, *other),
            _ => false,
        }
    }
}

impl Circuit<'_> {
    /// The inputs of the network while `calls` are up and the safeties numbered in `tripped` have tripped.
    pub(super) fn inputs(&self, calls: &[&State], tripped: &[usize]) -> Vec<bool> {
        self.inputs
            .iter()
            .map(|input| match input {
                Input::Call { unit, call } => calls.iter().any(|state| state.raises(unit, *call)),
                Input::Tripped(safety) => tripped.contains(safety),
            })
            .collect()
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
        !self.run(state, None).rest.steady
    }

    /// Whether a transformer is short-circuited in a state.
    pub fn is_shorted_in(&self, state: &State) -> bool {
        self.run(state, None).rest.shorted.contains(&true)
    }

    /// The network with one landing moved.
    pub(super) fn moved(&self, (join, to): Move) -> Drawn {
        let mut network = self.network.clone();
        if let (Some(ends), Some(wired)) = (network.joins.get_mut(join), self.net.joins().get(join))
        {
            *ends = [self.net.wire_side(wired), to];
        }
        network.drawn(None)
    }

    /// Runs the wiring in `state`, all relays dropped out at first.
    pub fn run(&self, state: &State, moved: Option<Move>) -> Running {
        self.run_all(std::slice::from_ref(state), moved)
            .pop()
            .unwrap_or_else(|| self.run_drawn(&self.drawn, state))
    }

    /// Runs the wiring in each of several states.
    pub(super) fn run_all(&self, states: &[State], moved: Option<Move>) -> Vec<Running> {
        let changed = moved.map(|moved| self.moved(moved));
        let drawn = changed.as_ref().unwrap_or(&self.drawn);
        states
            .iter()
            .map(|state| self.run_drawn(drawn, state))
            .collect()
    }

    fn run_drawn(&self, drawn: &Drawn, state: &State) -> Running {
        let inputs = self.inputs(&[state], &[]);
        Running {
            rest: drawn.rest(Trial {
                inputs: &inputs,
                stuck: &[],
            }),
            net_of: drawn.net_of.clone(),
        }
    }
}
