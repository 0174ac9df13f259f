//! Thermostat calls that do not get where they are meant to go.

use crate::catalog::{Call, CallSide, Role};
use crate::rules::Job;
use crate::systems::controls::{Netlist, Point};

/// A call of a thermostat that reaches no terminal that takes it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lost {
    /// The thermostat's terminal.
    pub(super) out: usize,
    /// The call.
    pub(super) call: Call,
    /// Where it ends instead, when something is wired to it.
    pub(super) ends: Option<usize>,
}

/// Whether the job has equipment that waits for the call.
fn is_wanted(job: &Job<'_>, net: &Netlist, call: Call) -> bool {
    let has = |kinds: &[&str]| {
        job.model
            .equipment
            .values()
            .any(|unit| kinds.contains(&unit.kind))
    };
    let taken = net
        .points()
        .any(|(_, point)| point.call() == Some((CallSide::In, call)));
    taken
        && match call {
            Call::Fan => !job.model.air_handlers.is_empty(),
            Call::Cool => has(&["outdoor-unit", "chiller"]),
            Call::Heat => has(&["boiler", "water-coil"]),
            _ => false,
        }
}

fn takes(net: &Netlist, points: &[usize], call: Call) -> bool {
    points
        .iter()
        .filter_map(|n| net.at(*n))
        .any(|point| point.call() == Some((CallSide::In, call)))
}

/// Where a lost call ends: at a terminal that takes another call, else at the far end of its conductor.
fn end_of(net: &Netlist, out: usize) -> Option<usize> {
    let home = net.at(out)?.unit()?.to_owned();
    let members: Vec<usize> = net
        .members(net.net(out))
        .filter(|(_, point)| point.unit() != Some(&home))
        .map(|(n, _)| n)
        .collect();
    let named = members.iter().copied().find(|n| {
        net.at(*n)
            .and_then(Point::call)
            .is_some_and(|(side, _)| side == CallSide::In)
    });
    let terminal = members
        .iter()
        .copied()
        .find(|n| net.at(*n).is_some_and(|point| point.unit().is_some()));
    named.or(terminal).or(members.last().copied())
}

/// The lost calls of the job, in the order of its terminals.
pub(super) fn lost_calls(job: &Job<'_>, net: &Netlist) -> Vec<Lost> {
    if net.flawed || job.model.cables.is_empty() {
        return Vec::new();
    }
    let outs: Vec<(usize, Call)> = net
        .points()
        .filter_map(|(n, point)| match point.call() {
            Some((CallSide::Out, call)) => Some((n, call)),
            _ => None,
        })
        .collect();
    let served = |call: Call| {
        outs.iter()
            .any(|(n, other)| *other == call && takes(net, &net.reached(*n), call))
    };
    outs.iter()
        .copied()
        .filter_map(|(out, call)| {
            if takes(net, &net.reached(out), call) {
                return None;
            }
            let wired = net.is_wired(out);
            // A call terminal on power for good is reported as that.
            let powered = net.points().any(|(n, point)| {
                point.call() == Some((CallSide::In, call))
                    && net
                        .members(net.net(n))
                        .any(|(_, other)| other.role() == Some(Role::Power))
            });
            let silent = !wired && (powered || served(call) || !is_wanted(job, net, call));
            (!silent).then(|| Lost {
                out,
                call,
                ends: if wired { end_of(net, out) } else { None },
            })
        })
        .collect()
}
