//! What a thermostat can call for, and which terminals such a call may drive.

use crate::catalog::{Call, CallSide};
use crate::model::Model;

use super::netlist::Netlist;

/// What one thermostat calls for while the others are satisfied.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct State {
    /// The thermostat; none while no one calls.
    pub thermostat: Option<String>,
    /// The call in a word.
    pub word: &'static str,
    /// The outputs that it closes.
    pub calls: &'static [Call],
}

/// Calls with the outputs that close for them: cooling takes the fan with it, a second stage the first.
const CALLS: &[(&str, Call, &[Call])] = &[
    ("fan", Call::Fan, &[Call::Fan]),
    ("cool", Call::Cool, &[Call::Cool, Call::Fan]),
    ("cool-2", Call::Cool2, &[Call::Cool, Call::Cool2, Call::Fan]),
    ("heat", Call::Heat, &[Call::Heat]),
    ("heat-2", Call::Heat2, &[Call::Heat, Call::Heat2]),
];

/// Whether a drive that carries `carried` serves a terminal that takes `taken`.
pub fn serves(carried: Call, taken: Call) -> bool {
    carried == taken
        || matches!(
            (carried, taken),
            (Call::Cool, Call::Cool2)
                | (Call::Heat, Call::Heat2)
                | (_, Call::Fan | Call::Reversing)
        )
}

impl State {
    /// Every state of a job's thermostats, no call first.
    pub(super) fn all(net: &Netlist, model: &Model) -> Vec<Self> {
        let mut out = vec![Self {
            thermostat: None,
            word: "none",
            calls: &[],
        }];
        for thermostat in model.thermostats.values() {
            for (word, call, calls) in CALLS {
                let gives = net.points().any(|(_, point)| {
                    point.unit() == Some(&thermostat.name)
                        && point.call() == Some((CallSide::Out, *call))
                });
                if gives {
                    out.push(Self {
                        thermostat: Some(thermostat.name.clone()),
                        word,
                        calls,
                    });
                }
            }
        }
        out
    }

    /// Whether the call of `unit` is up.
    pub(super) fn raises(&self, unit: &str, call: Call) -> bool {
        self.thermostat.as_deref() == Some(unit) && self.calls.contains(&call)
    }

    /// Whether a terminal that takes `taken` may be driven now.
    pub fn serves(&self, taken: Call) -> bool {
        self.calls.iter().any(|carried| serves(*carried, taken))
    }
}
