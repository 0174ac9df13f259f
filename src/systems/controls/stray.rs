//! Loads that get part of the voltage through other loads: two coils in series between power and common, a load fed
//! backwards through another one.
//!
//! What is called and closes is fed whole; current that comes through a load alone shows only in the voltages.

use std::collections::BTreeSet;

use crate::catalog::Role;
use crate::physics::switching::{Drawn, Rest};

use super::circuit::Circuit;
use super::path::way;
use super::table::{Case, Failure};
use super::volts::Ohms;

/// Volts under which nothing is said: what meters pick up from a cable beside.
const NOTHING: f64 = 0.5;

/// A load that is not fed as a whole and gets voltage all the same.
#[derive(Clone, Debug, PartialEq)]
pub struct Stray {
    /// The number of the load.
    pub load: usize,
    /// Volts across it while it pulls in.
    pub pulling: f64,
    /// Volts across it once it has pulled in, its own contacts with it.
    pub held: f64,
    /// The case that shows the highest of them.
    pub case: Case,
    /// The points from the hot side of the source to its common, through this load and the others.
    pub way: Vec<usize>,
    /// The loads on the way.
    pub loads: Vec<usize>,
}

impl Stray {
    /// The higher of its two voltages.
    pub const fn volts(&self) -> f64 {
        self.pulling.max(self.held)
    }
}

impl Circuit<'_> {
    /// Whether in a state of rest current can flow through one load into another: between points that touch no side of
    /// a source, loads lead on to different ones.
    pub(super) fn runs_through_loads(&self, drawn: &Drawn, rest: &Rest) -> bool {
        let net = |point: usize| {
            let drawn = drawn.net_of.get(point).copied().unwrap_or(usize::MAX);
            rest.net(drawn)
        };
        let sides: Vec<usize> = self
            .sources
            .iter()
            .flat_map(|source| [net(source.hot), net(source.cold)])
            .collect();
        let ends: Vec<[usize; 2]> = self
            .loads
            .iter()
            .map(|load| [net(load.at), net(load.back)])
            .filter(|[one, other]| one != other)
            .collect();
        let on = |[one, other]: [usize; 2], here: usize| {
            if one == here {
                Some(other)
            } else {
                (other == here).then_some(one)
            }
        };
        ends.iter().flatten().any(|here| {
            let mut beyond = ends.iter().filter_map(|pair| on(*pair, *here));
            !sides.contains(here)
                && beyond
                    .next()
                    .is_some_and(|first| beyond.any(|other| other != first))
        })
    }

    /// Every load that gets voltage through others in one of `cases`, each with the case that gives it most.
    pub fn strays(&self, ohms: &Ohms, cases: &[Case]) -> Vec<Stray> {
        let mut seen: BTreeSet<Vec<bool>> = BTreeSet::new();
        let mut out: Vec<Stray> = Vec::new();
        for case in cases {
            let rest = self.rest_of(&self.drawn, case);
            let sound = rest.steady && !rest.shorted.contains(&true);
            if !sound
                || !self.runs_through_loads(&self.drawn, &rest)
                || !seen.insert(rest.closed.clone())
            {
                continue;
            }
            for load in 0..self.loads.len() {
                if rest.fed.get(load) == Some(&true) {
                    continue;
                }
                let Some((source, pulling, held)) = self.stray_volts(load, case, &rest, ohms)
                else {
                    continue;
                };
                let volts = pulling.max(held);
                let known = out.iter().position(|stray| stray.load == load);
                let before = known.and_then(|n| out.get(n)).map_or(NOTHING, Stray::volts);
                if volts <= before {
                    continue;
                }
                let Some((way, loads)) = self.way_through(load, source, &rest) else {
                    continue;
                };
                let stray = Stray {
                    load,
                    pulling,
                    held,
                    case: case.clone(),
                    way,
                    loads,
                };
                match known.and_then(|n| out.get_mut(n)) {
                    Some(slot) => *slot = stray,
                    None => out.push(stray),
                }
            }
        }
        out
    }

    /// The source that makes most voltage across an unfed load, and that voltage while it pulls in and once it has.
    pub(super) fn stray_volts(
        &self,
        load: usize,
        case: &Case,
        rest: &Rest,
        ohms: &Ohms,
    ) -> Option<(usize, f64, f64)> {
        // A load at rest takes what it takes while it pulls in: its armature stands open.
        let va = |rest: &Rest, own: usize, pulled: bool| {
            let fed = rest.fed.clone();
            move |n: usize| {
                let draw = ohms.draws().get(n)?;
                let held = if n == own {
                    pulled
                } else {
                    fed.get(n) == Some(&true)
                };
                if held {
                    draw.held
                } else {
                    draw.pulling.or(draw.held)
                }
            }
        };
        let at_rest = self.levels(&rest.closed, ohms, va(rest, load, false));
        // Once it has pulled in, its own contacts have moved.
        let number = self.loads.get(load)?.relay;
        let mover = number.and_then(|relay| {
            let name = &self.net.relays.get(relay)?.name;
            self.movers.iter().position(|mover| mover.name == *name)
        });
        let moved = mover.map(|mover| {
            let failed = Some(Failure {
                mover,
                welded: true,
            });
            self.rest_of(
                &self.drawn,
                &Case {
                    failed,
                    ..case.clone()
                },
            )
        });
        let after = moved.as_ref().unwrap_or(rest);
        let in_place = self.levels(&after.closed, ohms, va(after, load, true));
        let load = self.loads.get(load)?;
        (0..self.sources.len())
            .map(|n| {
                let volts = |levels: &super::volts::Levels| levels.across(n, load).unwrap_or(0.0);
                (n, volts(&at_rest), volts(&in_place))
            })
            .max_by(|a, b| a.1.max(a.2).total_cmp(&b.1.max(b.2)))
    }

    /// The shortest way from a source's hot side through a load to its common, other loads crossed where needed, and
    /// the loads on it.
    fn way_through(
        &self,
        load: usize,
        source: usize,
        rest: &Rest,
    ) -> Option<(Vec<usize>, Vec<usize>)> {
        let (one, source) = (self.loads.get(load)?, self.sources.get(source)?);
        let through = |near: usize, far: usize| {
            let mut to_hot = self.across_loads(near, source.hot, far, load, rest)?;
            let mut to_cold = self.across_loads(far, source.cold, near, load, rest)?;
            to_hot.reverse();
            to_hot.append(&mut to_cold);
            Some(to_hot)
        };
        let ways = [through(one.at, one.back), through(one.back, one.at)];
        let way = ways.into_iter().flatten().min_by_key(Vec::len)?;
        let crossed = |n: &usize| {
            let load = self.loads.get(*n);
            load.is_some_and(|load| way.windows(2).any(|pair| load.is_between(pair)))
        };
        let loads = (0..self.loads.len()).filter(crossed).collect();
        Some((way, loads))
    }

    /// The shortest way between two points over conductors, contacts that conduct, and loads but `own`; it keeps off the
    /// point `without`.
    fn across_loads(
        &self,
        from: usize,
        to: usize,
        without: usize,
        own: usize,
        rest: &Rest,
    ) -> Option<Vec<usize>> {
        way(self.size, from, to, |point| {
            let loads = self.loads.iter().enumerate().filter(|(n, _)| *n != own);
            let crossed = loads.filter_map(|(_, load)| {
                if load.at == point {
                    Some(load.back)
                } else {
                    (load.back == point).then_some(load.at)
                }
            });
            let all = self.beside(point, rest, None).into_iter().chain(crossed);
            all.filter(|there| *there != without).collect()
        })
    }

    /// Whether some call feeds a load whole while no safety is open.
    pub fn is_ever_fed(&self, load: usize) -> bool {
        self.is_ever(load, &self.drawn)
    }

    fn is_ever(&self, load: usize, drawn: &Drawn) -> bool {
        let mut cases = self.calls_alone().into_iter();
        cases.any(|case| {
            let rest = self.rest_of(drawn, &case);
            rest.steady && rest.fed.get(load) == Some(&true)
        })
    }

    /// The landing that cuts the way of a stray voltage and leaves every call what it feeds: between the loads rather
    /// than before or behind them.
    pub fn stray_landing(&self, stray: &Stray) -> Option<usize> {
        let cases = self.calls_alone();
        let fed = |drawn: &Drawn| -> Vec<Vec<bool>> {
            cases
                .iter()
                .map(|case| self.rest_of(drawn, case).fed)
                .collect()
        };
        let before = fed(&self.drawn);
        let cuts = |pair: &[usize]| {
            let n = self.landing_between(pair)?;
            (fed(&self.network.drawn(Some(n))) == before).then_some(n)
        };
        let pairs = || stray.way.windows(2);
        let crosses = |pair: &[usize]| self.loads.iter().any(|load| load.is_between(pair));
        let first = pairs().position(crosses)?;
        let last = pairs().rposition(crosses)?;
        let between = pairs().skip(first).take(last - first);
        between
            .clone()
            .rev()
            .find_map(cuts)
            .or_else(|| pairs().rev().find_map(cuts))
    }

    /// The landing behind the first load on the way of a stray voltage that, put on a common terminal of the
    /// transformer, ends every stray and has the calls served better; the landing and the terminal.
    pub fn stray_mend(&self, stray: &Stray) -> Option<(usize, usize)> {
        let before = self.worth(&self.drawn);
        let cold = *stray.way.last()?;
        let unit = self.net.at(cold)?.unit()?;
        let commons = self.with(unit, Role::Common);
        let crosses = |pair: &[usize]| self.loads.iter().any(|load| load.is_between(pair));
        let behind = stray.way.windows(2).skip_while(|pair| !crosses(pair));
        behind
            .filter_map(|pair| self.landing_between(pair))
            .flat_map(|join| commons.iter().map(move |to| (join, *to)))
            .find(|moved| {
                let drawn = self.moved(*moved);
                let straight = self.calls_alone().iter().all(|case| {
                    let rest = self.rest_of(&drawn, case);
                    !self.runs_through_loads(&drawn, &rest)
                });
                let after = self.worth(&drawn);
                let idle = stray.loads.iter().all(|n| !self.is_fed_at_rest(*n, &drawn));
                let better = after > before || after == before && self.is_ever(stray.load, &drawn);
                straight && idle && better
            })
    }

    fn is_fed_at_rest(&self, load: usize, drawn: &Drawn) -> bool {
        self.rest_of(drawn, &Case::default()).fed.get(load) == Some(&true)
    }

    /// Coils on the way of a stray voltage that no call feeds whole: their two ends.
    pub fn coils_astray(&self, strays: &[Stray]) -> Vec<usize> {
        let loads = strays.iter().flat_map(|stray| &stray.loads);
        let never = loads.filter(|n| !self.is_ever_fed(**n));
        never
            .filter_map(|n| self.loads.get(*n))
            .filter(|load| load.relay.is_some())
            .flat_map(|load| [load.at, load.back])
            .collect()
    }
}
