//! Cases in which contacts short-circuit a transformer, and cases in which the wiring never comes to rest.

use crate::physics::switching::{Drawn, Rest};

use super::circuit::Circuit;
use super::table::Case;

/// A transformer that contacts short-circuit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shorted {
    /// The plainest case that shows it.
    pub case: Case,
    /// The points from its hot side to its common.
    pub way: Vec<usize>,
}

/// Contacts that drop themselves out and pull in again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Restless {
    /// The plainest case that shows it.
    pub case: Case,
    /// What moves, as the job names it.
    pub movers: Vec<String>,
    /// The points from the hot side of a transformer to a coil that moves, over the contact that it opens.
    pub way: Vec<usize>,
}

/// What comes of running the wiring for every case with nothing failed, beside what is fed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Unrest {
    /// The transformers that some case short-circuits through a contact, each once.
    pub shorts: Vec<Shorted>,
    /// The first case in which the wiring never rests and shorts nothing, for each set of contacts that move.
    pub restless: Vec<Restless>,
    /// The cases in which current can flow through one load into another.
    pub(super) through: Vec<Case>,
}

impl Circuit<'_> {
    /// Every case with nothing failed, the plainest first.
    pub fn whole_cases(&self) -> Vec<Case> {
        let calls = self.call_sets();
        self.trip_sets()
            .into_iter()
            .flat_map(|tripped| {
                calls.iter().map(move |calls| Case {
                    calls: calls.clone(),
                    tripped: tripped.clone(),
                    failed: None,
                })
            })
            .collect()
    }

    /// Runs the wiring for every case with nothing failed.
    pub fn unrest(&self) -> Unrest {
        let mut out = Unrest::default();
        for case in self.whole_cases() {
            let rest = self.rest_of(&self.drawn, &case);
            if rest.shorted.contains(&true) {
                self.shorted(&case, &rest, &mut out.shorts);
            } else if !rest.steady {
                let one = self.moving(case, &rest);
                let told = |told: &Restless| told.movers == one.movers;
                if !out.restless.iter().any(told) {
                    out.restless.push(one);
                }
            } else if self.runs_through_loads(&self.drawn, &rest) {
                out.through.push(case);
            }
        }
        out
    }

    fn shorted(&self, case: &Case, rest: &Rest, out: &mut Vec<Shorted>) {
        for (n, source) in self.sources.iter().enumerate() {
            // What conductors join for good is seen on the drawing.
            let wired = self.drawn.net_of.get(source.hot) == self.drawn.net_of.get(source.cold);
            let told = |told: &Shorted| told.way.first() == Some(&source.hot);
            if rest.shorted.get(n) != Some(&true) || wired || out.iter().any(told) {
                continue;
            }
            let way = self.shortest(source.cold, source.hot, rest, None);
            out.extend(way.map(|way| Shorted {
                case: case.clone(),
                way,
            }));
        }
    }

    fn moving(&self, case: Case, rest: &Rest) -> Restless {
        let moves =
            |contacts: &[(usize, bool)]| contacts.iter().any(|(n, _)| rest.moving.contains(n));
        let movers: Vec<String> = self
            .movers
            .iter()
            .filter(|mover| moves(&mover.contacts))
            .map(|mover| mover.name.clone())
            .collect();
        let way = self.loads.iter().enumerate().find_map(|(n, load)| {
            let relay = self.net.relays.get(load.relay?)?;
            let fed = rest.fed.get(n) == Some(&true) && movers.contains(&relay.name);
            fed.then(|| self.feeding_in(load, rest))?
        });
        Restless {
            case,
            movers,
            way: way.unwrap_or_default(),
        }
    }

    /// How well a network serves the calls: terminals fed by their own call, less those fed by another and those in
    /// a state that shorts or never rests.
    pub(super) fn worth(&self, drawn: &Drawn) -> i64 {
        let mut worth = 0;
        for (n, state) in self.states.iter().enumerate() {
            let case = Case {
                calls: if n == 0 { Vec::new() } else { vec![n] },
                ..Case::default()
            };
            let rest = self.rest_of(drawn, &case);
            if !rest.steady || rest.shorted.contains(&true) {
                worth -= 100;
                continue;
            }
            for (load, one, call) in self.callers() {
                let fed = rest.fed.get(load) == Some(&true);
                let wanted = state.serves(call);
                // What runs uncalled is worse than what stands still.
                worth += i64::from(fed && wanted) - 10 * i64::from(fed && !wanted);
                // A load that is called and whose way is cut serves no one.
                worth -=
                    i64::from(!fed && state.calls.contains(&call) && self.net.is_wired(one.at));
            }
        }
        worth
    }

    /// Of the landings on a way the one without which the calls are served best, with the conductor that it ends.
    pub fn worst_landing(&self, way: &[usize]) -> Option<usize> {
        way.windows(2)
            .filter_map(|pair| self.landing_between(pair))
            .map(|n| (self.worth(&self.network.drawn(Some(n))), n))
            // Of several the last, nearest to the hot side.
            .max_by_key(|(worth, _)| *worth)
            .map(|(_, n)| n)
    }
}
