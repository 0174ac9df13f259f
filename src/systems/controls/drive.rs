//! What drives a terminal: a thermostat's call straight, or an air handler's output behind the safeties, also
//! through relays.

use crate::catalog::{Call, CallSide, Role};

use super::Netlist;

/// Where a call at a terminal comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Driver {
    /// A thermostat's call, past every air handler.
    Thermostat,
    /// An air handler's output behind its safeties.
    Output,
    /// The hot side of a transformer, for good.
    Power,
}

/// One way by which a terminal is driven.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drive {
    /// From what.
    pub driver: Driver,
    /// The call that it carries, where it carries one.
    pub call: Option<Call>,
    /// The points from the driven terminal back to the driver, relays crossed from contact to coil.
    pub path: Vec<usize>,
}

impl Netlist {
    /// Everything that drives the terminal `point`, in the order of its net.
    pub fn drives(&self, point: usize) -> Vec<Drive> {
        self.drives_past(point, &mut Vec::new())
    }

    fn drives_past(&self, point: usize, crossed: &mut Vec<usize>) -> Vec<Drive> {
        let mut out = Vec::new();
        for (n, member) in self.members(self.net(point)) {
            if n == point {
                continue;
            }
            let driver = match (member.call(), member.role()) {
                (Some((CallSide::Out, call)), _) => Some((Driver::Thermostat, Some(call))),
                (Some((CallSide::Output, call)), _) => Some((Driver::Output, Some(call))),
                (_, Some(Role::Power)) => Some((Driver::Power, None)),
                _ => None,
            };
            if let Some((driver, call)) = driver {
                let path = self.path(point, n).unwrap_or_default();
                out.push(Drive { driver, call, path });
            }
            out.extend(self.across_relay(point, n, crossed));
        }
        out
    }

    /// What drives `point` through the relay that `contact` is a contact of.
    fn across_relay(&self, point: usize, contact: usize, crossed: &mut Vec<usize>) -> Vec<Drive> {
        let mut out = Vec::new();
        for (n, relay) in self.relays.iter().enumerate() {
            let others = if relay.common.contains(&contact) {
                &relay.switched
            } else if relay.switched.contains(&contact) {
                &relay.common
            } else {
                continue;
            };
            if crossed.contains(&n) {
                continue;
            }
            crossed.push(n);
            let to_contact = self.path(point, contact).unwrap_or_default();
            let mut through = |from: &[usize], netlist: &Self| -> Vec<Drive> {
                from.iter()
                    .flat_map(|far| netlist.drives_past(*far, crossed))
                    .collect()
            };
            let fed = through(others, self);
            let called = through(&relay.coil, self);
            // Current that comes from behind the safeties stops with them, whatever moves the contact.
            let behind = fed.iter().any(|drive| drive.driver == Driver::Output);
            let chosen: Vec<Drive> = if behind {
                fed.into_iter()
                    .filter(|drive| drive.driver == Driver::Output)
                    .collect()
            } else {
                called
                    .into_iter()
                    .filter(|drive| drive.driver != Driver::Power)
                    .collect()
            };
            out.extend(chosen.into_iter().map(|drive| Drive {
                path: to_contact.iter().copied().chain(drive.path).collect(),
                ..drive
            }));
            crossed.pop();
        }
        out
    }

    /// Every point that a call put on `point` reaches, through relays as well.
    pub fn reached(&self, point: usize) -> Vec<usize> {
        let mut nets = vec![self.net(point)];
        let mut at = 0;
        while let Some(net) = nets.get(at).copied() {
            at += 1;
            for relay in &self.relays {
                if relay.coil.iter().any(|coil| self.net(*coil) == net) {
                    for contact in relay.common.iter().chain(&relay.switched) {
                        let far = self.net(*contact);
                        if !nets.contains(&far) {
                            nets.push(far);
                        }
                    }
                }
            }
        }
        self.points()
            .filter(|(n, _)| *n != point && nets.contains(&self.net(*n)))
            .map(|(n, _)| n)
            .collect()
    }
}
