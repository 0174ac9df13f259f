//! The truth table: what runs for every call of the thermostats, every set of tripped safeties and every relay that
//! fails.

use crate::physics::switching::{Drawn, Rest, Trial};

use super::circuit::Circuit;
use super::state::State;

/// Above this many sets of calls, only one or two thermostats call at once.
const MOST_CALL_SETS: usize = 64;
/// Above this many safeties, only one or two of them have tripped at once, or all.
const MOST_TOGETHER: usize = 6;

/// A relay or output that does not follow its coil.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Failure {
    /// The number of the mover.
    pub mover: usize,
    /// Whether its contacts are welded; else it never pulls in.
    pub welded: bool,
}

/// One row's question.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Case {
    /// Numbers of the states that are up together, one a thermostat; none while no one calls.
    pub calls: Vec<usize>,
    /// Numbers of the safeties that have tripped.
    pub tripped: Vec<usize>,
    /// What has failed.
    pub failed: Option<Failure>,
}

/// One row: the question and what runs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The question.
    pub case: Case,
    /// Whether each load is fed.
    pub fed: Vec<bool>,
    /// Whether the wiring comes to rest.
    pub steady: bool,
    /// Whether a transformer is short-circuited.
    pub shorted: bool,
}

/// Every set of at most two of `list`, and all of them.
fn few(list: &[usize]) -> Vec<Vec<usize>> {
    let mut out: Vec<Vec<usize>> = vec![Vec::new()];
    out.extend(list.iter().map(|one| vec![*one]));
    for (n, one) in list.iter().enumerate() {
        out.extend(list.iter().skip(n + 1).map(|other| vec![*one, *other]));
    }
    if list.len() > 2 {
        out.push(list.to_vec());
    }
    out
}

impl Circuit<'_> {
    /// What the thermostats can call for together, no call first, single calls next.
    pub fn call_sets(&self) -> Vec<Vec<usize>> {
        let mut by_thermostat: Vec<Vec<usize>> = Vec::new();
        let mut names: Vec<&str> = Vec::new();
        for (n, state) in self.states.iter().enumerate() {
            let Some(name) = state.thermostat.as_deref() else {
                continue;
            };
            let place = names.iter().position(|known| *known == name);
            if let Some(list) = place.and_then(|place| by_thermostat.get_mut(place)) {
                list.push(n);
            } else {
                names.push(name);
                by_thermostat.push(vec![n]);
            }
        }
        let all = by_thermostat
            .iter()
            .try_fold(1_usize, |all, list| all.checked_mul(list.len() + 1))
            .filter(|all| *all <= MOST_CALL_SETS);
        let most = if all.is_some() { usize::MAX } else { 2 };
        let mut out: Vec<Vec<usize>> = vec![Vec::new()];
        for list in &by_thermostat {
            let longer: Vec<Vec<usize>> = out
                .iter()
                .filter(|calls| calls.len() < most)
                .flat_map(|calls| {
                    list.iter().map(|call| {
                        let mut calls = calls.clone();
                        calls.push(*call);
                        calls
                    })
                })
                .collect();
            out.extend(longer);
        }
        out.sort_by_key(Vec::len);
        out
    }

    /// The safeties that can trip together: every set of them where they are few.
    pub fn trip_sets(&self) -> Vec<Vec<usize>> {
        let list: Vec<usize> = (0..self.safeties.len())
            .filter(|n| self.safeties.get(*n).is_some_and(super::Safety::can_trip))
            .collect();
        if list.len() > MOST_TOGETHER {
            return few(&list);
        }
        let mut out: Vec<Vec<usize>> = vec![Vec::new()];
        for one in &list {
            let longer: Vec<Vec<usize>> = out
                .iter()
                .map(|set| set.iter().copied().chain([*one]).collect())
                .collect();
            out.extend(longer);
        }
        out.sort_by_key(Vec::len);
        out
    }

    /// Nothing failed, then each relay and each output welded and open.
    pub fn failures(&self) -> Vec<Option<Failure>> {
        let all = (0..self.movers.len())
            .flat_map(|mover| [true, false].map(|welded| Some(Failure { mover, welded })));
        [None].into_iter().chain(all).collect()
    }

    /// The wiring as drawn, or with one landing of a conductor broken.
    pub(super) fn broken(&self, join: usize) -> Drawn {
        self.network.drawn(Some(join))
    }

    /// Runs one case over a drawn network.
    pub(super) fn rest_of(&self, drawn: &Drawn, case: &Case) -> Rest {
        let states: Vec<&State> = case
            .calls
            .iter()
            .filter_map(|n| self.states.get(*n))
            .collect();
        let inputs = self.inputs(&states, &case.tripped);
        let stuck: Vec<(usize, bool)> = case
            .failed
            .and_then(|failed| Some((self.movers.get(failed.mover)?, failed.welded)))
            .map(|(mover, welded)| {
                let contacts = mover.contacts.iter();
                contacts
                    .map(|(n, pulled)| (*n, *pulled == welded))
                    .collect()
            })
            .unwrap_or_default();
        drawn.rest(Trial {
            inputs: &inputs,
            stuck: &stuck,
        })
    }

    /// The whole table: calls, safeties and failures, in that order.
    pub fn table(&self) -> Vec<Row> {
        let (trips, failures) = (self.trip_sets(), self.failures());
        let mut out = Vec::new();
        for calls in self.call_sets() {
            for tripped in &trips {
                for failed in &failures {
                    let case = Case {
                        calls: calls.clone(),
                        tripped: tripped.clone(),
                        failed: *failed,
                    };
                    let rest = self.rest_of(&self.drawn, &case);
                    out.push(Row {
                        case,
                        steady: rest.steady,
                        shorted: rest.shorted.contains(&true),
                        fed: rest.fed,
                    });
                }
            }
        }
        out
    }

    /// What can trip.
    pub fn safeties(&self) -> &[super::Safety] {
        &self.safeties
    }

    /// What can fail.
    pub fn movers(&self) -> &[super::Mover] {
        &self.movers
    }

    /// Everything that takes current.
    pub fn loads(&self) -> &[super::Load] {
        &self.loads
    }
}
