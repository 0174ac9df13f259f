//! The loops that water pipes form: from a boiler through pipes, coils and parallel ways back to it.

use super::water::HotWater;
use super::water_pipe::WaterPipe;

/// A part of a loop, in the way the water goes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum WaterPart {
    /// A pipe.
    Pipe(String),
    /// A coil, and whether water enters where it is to leave.
    Coil {
        /// Its name.
        name: String,
        /// Whether the supply is joined to its return port, or the return to its supply port.
        backward: bool,
    },
    /// Ways side by side.
    Fork(Vec<Vec<WaterPart>>),
}

/// A loop of one boiler.
#[derive(Clone, Debug)]
pub struct WaterLoop {
    /// Its name: that of its first pipe.
    pub name: String,
    /// The boiler.
    pub boiler: String,
    /// Its parts.
    pub parts: Vec<WaterPart>,
    /// What its last pipe leads to, where that is not the boiler: the loop is open there.
    pub open_at: Option<String>,
}

fn all<'p>(parts: &'p [WaterPart], out: &mut Vec<&'p WaterPart>) {
    for part in parts {
        out.push(part);
        if let WaterPart::Fork(ways) = part {
            for way in ways {
                all(way, out);
            }
        }
    }
}

impl WaterLoop {
    /// Every part, those of parallel ways among them.
    pub fn every(&self) -> Vec<&WaterPart> {
        let mut out = Vec::new();
        all(&self.parts, &mut out);
        out
    }

    /// Names of its pipes.
    pub fn pipes(&self) -> Vec<&str> {
        self.every()
            .into_iter()
            .filter_map(|part| match part {
                WaterPart::Pipe(name) => Some(name.as_str()),
                _ => None,
            })
            .collect()
    }

    /// Names of its coils.
    pub fn coils(&self) -> Vec<&str> {
        self.every()
            .into_iter()
            .filter_map(|part| match part {
                WaterPart::Coil { name, .. } => Some(name.as_str()),
                _ => None,
            })
            .collect()
    }

    /// Every way that a drop of water can take, one after the other where ways lie side by side.
    pub fn ways(&self) -> Vec<Vec<&WaterPart>> {
        fn walk<'p>(parts: &'p [WaterPart]) -> Vec<Vec<&'p WaterPart>> {
            let mut ways: Vec<Vec<&'p WaterPart>> = vec![Vec::new()];
            for part in parts {
                if let WaterPart::Fork(side) = part {
                    let beside: Vec<Vec<&WaterPart>> =
                        side.iter().flat_map(|way| walk(way)).collect();
                    ways = ways
                        .iter()
                        .flat_map(|way| {
                            beside.iter().map(move |more| {
                                way.iter().chain(more).copied().collect::<Vec<_>>()
                            })
                        })
                        .take(64)
                        .collect();
                } else {
                    for way in &mut ways {
                        way.push(part);
                    }
                }
            }
            ways
        }
        walk(&self.parts)
    }
}

/// Where a walk came to an end.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Stop {
    /// Back at the boiler.
    Boiler,
    /// Where pipes come together, and the pipes that go on from there.
    Joint(Vec<String>),
    /// Nowhere.
    Open(String),
}

struct Walk<'a> {
    water: &'a HotWater,
    boiler: &'a str,
}

impl<'a> Walk<'a> {
    /// The pipes that the water goes on into behind `pipe`, where it ends at a pipe.
    fn behind(&self, pipe: &WaterPipe) -> Vec<&'a WaterPipe> {
        self.water
            .pipes
            .values()
            .filter(|next| next.from.thing == pipe.name || pipe.to.thing == next.name)
            .filter(|next| next.name != pipe.name)
            .collect()
    }

    /// The pipes that lead into any of `next`.
    fn leading_into(&self, next: &[&WaterPipe]) -> usize {
        self.water
            .pipes
            .values()
            .filter(|pipe| {
                next.iter()
                    .any(|next| next.from.thing == pipe.name || pipe.to.thing == next.name)
            })
            .count()
    }

    fn walk(&self, first: &'a WaterPipe, depth: usize) -> (Vec<WaterPart>, Stop) {
        let mut parts = Vec::new();
        let mut pipe = first;
        // A loop of pipes that never meets the boiler ends where its length says so.
        for _ in 0..=2 * self.water.pipes.len() {
            parts.push(WaterPart::Pipe(pipe.name.clone()));
            if pipe.to.thing == self.boiler {
                return (parts, Stop::Boiler);
            }
            let mut next = if let Some(coil) = self.water.coils.get(&pipe.to.thing) {
                let next: Vec<&WaterPipe> = self
                    .water
                    .pipes
                    .values()
                    .filter(|next| next.from.thing == coil.name)
                    .collect();
                let leaves = next.first().and_then(|next| next.from.port.as_deref());
                parts.push(WaterPart::Coil {
                    name: coil.name.clone(),
                    backward: pipe.to.port.as_deref() == Some("return") || leaves == Some("supply"),
                });
                next
            } else {
                self.behind(pipe)
            };
            if next.is_empty() {
                return (parts, Stop::Open(pipe.to.thing.clone()));
            }
            let names = |pipes: &[&WaterPipe]| pipes.iter().map(|p| p.name.clone()).collect();
            let from_coil = self.water.coils.contains_key(&pipe.to.thing);
            if !from_coil && self.leading_into(&next) > 1 {
                return (parts, Stop::Joint(names(&next)));
            }
            // Ways side by side: each to where they meet again, then on from there.
            while next.len() > 1 {
                if depth > 8 {
                    return (parts, Stop::Open(pipe.name.clone()));
                }
                let walked: Vec<(Vec<WaterPart>, Stop)> =
                    next.iter().map(|next| self.walk(next, depth + 1)).collect();
                let stop = walked.iter().find_map(|(_, stop)| match stop {
                    Stop::Open(at) => Some(Stop::Open(at.clone())),
                    _ => None,
                });
                let met = walked.first().map(|(_, stop)| stop.clone());
                let stop = stop.or(met).unwrap_or(Stop::Boiler);
                let together = walked.iter().all(|(_, other)| *other == stop);
                parts.push(WaterPart::Fork(
                    walked.into_iter().map(|(parts, _)| parts).collect(),
                ));
                match stop {
                    Stop::Joint(on) if together => {
                        next = on
                            .iter()
                            .filter_map(|name| self.water.pipes.get(name))
                            .collect();
                    }
                    Stop::Joint(on) => return (parts, Stop::Open(on.join(", "))),
                    other => return (parts, other),
                }
            }
            let Some(on) = next.first() else {
                return (parts, Stop::Open(pipe.name.clone()));
            };
            pipe = on;
        }
        (parts, Stop::Open(first.name.clone()))
    }
}

/// Every loop that leaves a boiler.
pub(super) fn loops(water: &HotWater) -> Vec<WaterLoop> {
    let mut out = Vec::new();
    for boiler in water.boilers.keys() {
        let walk = Walk { water, boiler };
        for pipe in water.pipes.values().filter(|p| p.from.thing == *boiler) {
            let (parts, stop) = walk.walk(pipe, 0);
            out.push(WaterLoop {
                name: pipe.name.clone(),
                boiler: boiler.clone(),
                parts,
                open_at: match stop {
                    Stop::Boiler => None,
                    Stop::Joint(names) => Some(names.join(", ")),
                    Stop::Open(at) => Some(at),
                },
            });
        }
    }
    out
}
