//! What a thermostat can call for, and which terminals such a call may drive.

use crate::catalog::{Call, CallSide, Catalog, ReversingIn};
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
    pub calls: Vec<Call>,
    /// Whether the coil cools, and so makes water, at this call.
    pub cools: bool,
}

/// Whether a drive that carries `carried` serves a terminal that takes `taken`.
pub fn serves(carried: Call, taken: Call) -> bool {
    carried == taken
        || matches!(
            (carried, taken),
            (Call::Cool, Call::Cool2)
                | (Call::Heat, Call::Heat2)
                | (Call::Emergency, Call::Heat | Call::Heat2)
                | (_, Call::Fan)
        )
}

impl State {
    /// Every state of a job's thermostats, no call first: cooling takes the fan with it, a second stage the first. A
    /// thermostat with an output for the reversing valve runs the compressor for heat as well.
    pub(super) fn all(net: &Netlist, model: &Model, catalog: &Catalog) -> Vec<Self> {
        let mut out = vec![Self {
            thermostat: None,
            word: "none",
            calls: Vec::new(),
            cools: false,
        }];
        for thermostat in model.thermostats.values() {
            let gives = |call: Call| {
                net.points().any(|(_, point)| {
                    point.unit() == Some(&thermostat.name)
                        && point.call() == Some((CallSide::Out, call))
                })
            };
            let reversing = gives(Call::Reversing).then(|| {
                thermostat
                    .model
                    .as_ref()
                    .and_then(|model| catalog.thermostats.get(&model.value))
                    .and_then(|sheet| sheet.reversing.as_ref()?.get())
                    .unwrap_or(ReversingIn::Cooling)
            });
            let turned = |mode: ReversingIn| (reversing == Some(mode)).then_some(Call::Reversing);
            let mut put = |word, needs: Call, calls: &[Call], also: Option<Call>, cools| {
                if gives(needs) {
                    out.push(Self {
                        thermostat: Some(thermostat.name.clone()),
                        word,
                        calls: calls.iter().copied().chain(also).collect(),
                        cools,
                    });
                }
            };
            let cooling = turned(ReversingIn::Cooling);
            let heating = turned(ReversingIn::Heating);
            put("fan", Call::Fan, &[Call::Fan], None, false);
            put("cool", Call::Cool, &[Call::Cool, Call::Fan], cooling, true);
            let second = [Call::Cool, Call::Cool2, Call::Fan];
            put("cool-2", Call::Cool2, &second, cooling, true);
            let dry = [Call::Cool, Call::Fan, Call::Dehumidify];
            put("dehumidify", Call::Dehumidify, &dry, cooling, true);
            if reversing.is_none() {
                put("heat", Call::Heat, &[Call::Heat], None, false);
                put(
                    "heat-2",
                    Call::Heat2,
                    &[Call::Heat, Call::Heat2],
                    None,
                    false,
                );
            } else {
                put("heat", Call::Cool, &[Call::Cool, Call::Fan], heating, false);
                let beside = [Call::Cool, Call::Fan, Call::Heat];
                put("heat-2", Call::Heat, &beside, heating, false);
            }
            let emergency = [Call::Emergency, Call::Heat];
            put("emergency", Call::Emergency, &emergency, None, false);
        }
        out
    }

    /// Whether the call of `unit` is up.
    pub(super) fn raises(&self, unit: &str, call: Call) -> bool {
        self.thermostat.as_deref() == Some(unit) && self.calls.contains(&call)
    }

    /// What it asks for, in words.
    pub fn asked(&self) -> &'static str {
        match self.word {
            "fan" => "the fan",
            "cool" => "cooling",
            "cool-2" => "second-stage cooling",
            "dehumidify" => "drier air",
            "heat" => "heat",
            "heat-2" => "second-stage heat",
            "emergency" => "emergency heat",
            _ => "nothing",
        }
    }

    /// Whether a terminal that takes `taken` may be driven now.
    pub fn serves(&self, taken: Call) -> bool {
        self.calls.iter().any(|carried| serves(*carried, taken))
    }
}
