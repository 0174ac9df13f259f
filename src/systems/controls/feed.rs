//! The way on which a load is fed in a case, and the conductor whose removal would mend it.

use crate::physics::switching::{Drawn, Rest};

use super::circuit::{Circuit, Load};
use super::netlist::Place;
use super::path::way;
use super::table::Case;

impl Circuit<'_> {
    /// Neighbours of a point over conductors, ties and contacts that conduct.
    pub(super) fn beside(&self, point: usize, rest: &Rest, without: Option<usize>) -> Vec<usize> {
        let over = |[one, other]: [usize; 2]| {
            if one == point {
                Some(other)
            } else if other == point {
                Some(one)
            } else {
                None
            }
        };
        let joins = self.network.joins.iter().enumerate();
        let closed = self.network.contacts.iter().zip(&rest.closed);
        joins
            .filter(|(n, _)| without != Some(*n))
            .filter_map(|(_, ends)| over(*ends))
            .chain(
                closed
                    .filter(|(_, closed)| **closed)
                    .filter_map(|(contact, _)| over(contact.ends)),
            )
            .filter(|other| *other != point)
            .collect()
    }

    /// The shortest way over conductors and contacts that conduct, told from its far end.
    pub(super) fn shortest(
        &self,
        from: usize,
        to: usize,
        rest: &Rest,
        without: Option<usize>,
    ) -> Option<Vec<usize>> {
        let way = way(self.size, from, to, |point| {
            self.beside(point, rest, without)
        });
        way.map(|way| way.into_iter().rev().collect())
    }

    /// The join of the job's own that stands between two neighbours of a way.
    pub(super) fn landing_between(&self, pair: &[usize]) -> Option<usize> {
        self.net.joins().iter().position(|join| {
            let ends = [join.one, join.other];
            join.words.is_some() && pair.iter().all(|point| ends.contains(point))
        })
    }

    /// The points from a transformer's hot side to the load that it feeds in a case; none when it is not fed.
    pub fn feeding(&self, load: usize, case: &Case, without: Option<usize>) -> Option<Vec<usize>> {
        let drawn = self.network.drawn(without);
        let rest = self.rest_of(&drawn, case);
        let load = self.loads.get(load)?;
        self.feeding_over(load, &drawn, &rest, without)
    }

    /// The points from the hot side of a transformer to a load in a state of rest.
    pub(super) fn feeding_in(&self, load: &Load, rest: &Rest) -> Option<Vec<usize>> {
        self.feeding_over(load, &self.drawn, rest, None)
    }

    fn feeding_over(
        &self,
        load: &Load,
        drawn: &Drawn,
        rest: &Rest,
        without: Option<usize>,
    ) -> Option<Vec<usize>> {
        self.sources.iter().find_map(|source| {
            let at = drawn.meet(rest, load.at, source.hot);
            let (near, far) = if at {
                (load.at, load.back)
            } else {
                (load.back, load.at)
            };
            drawn
                .meet(rest, far, source.cold)
                .then(|| self.shortest(near, source.hot, rest, without))
                .flatten()
        })
    }

    /// The conductor's landing on the way to a load whose removal stops it in `case` and leaves everything else as it
    /// is while no safety has tripped; its number.
    pub fn culprit(&self, load: usize, case: &Case) -> Option<usize> {
        let way = self.feeding(load, case, None)?;
        let at_rest = Case {
            tripped: Vec::new(),
            ..case.clone()
        };
        let before = self.rest_of(&self.drawn, &at_rest);
        way.windows(2).rev().find_map(|pair| {
            let n = self.landing_between(pair)?;
            let without = self.network.drawn(Some(n));
            let stopped = self.rest_of(&without, case).fed.get(load) == Some(&false);
            let same = self.rest_of(&without, &at_rest).fed == before.fed;
            (stopped && same).then_some(n)
        })
    }

    /// The way between two transformers in a case, and the join on it whose removal parts them and stops nothing else;
    /// the first join of the way where there is none such.
    pub fn joining(&self, [one, other]: [usize; 2], case: &Case) -> Option<(Vec<usize>, usize)> {
        let (one, other) = (self.sources.get(one)?, self.sources.get(other)?);
        let rest = self.rest_of(&self.drawn, case);
        let way = [one.hot, one.cold]
            .into_iter()
            .flat_map(|a| [other.hot, other.cold].map(|b| (a, b)))
            .filter(|(a, b)| self.drawn.meet(&rest, *a, *b))
            .filter_map(|(a, b)| self.shortest(a, b, &rest, None))
            .min_by_key(Vec::len)?;
        let on_way = || way.windows(2).filter_map(|pair| self.landing_between(pair));
        let parts = |join: &usize| {
            let without = self.network.drawn(Some(*join));
            self.rest_of(&without, case).fed == rest.fed
        };
        let join = on_way().find(parts).or_else(|| on_way().next())?;
        Some((way, join))
    }

    /// The landing of a join that a finding is shown at: that on a terminal where one of its ends is one.
    pub fn words_of(&self, join: usize) -> Option<crate::source::Span> {
        self.net.joins().get(join)?.words
    }

    /// Whether no conductor lands on either lead of a switch.
    pub fn is_idle(&self, safety: usize) -> bool {
        let leads = self.safeties.get(safety).and_then(|safety| safety.leads);
        leads.is_some_and(|leads| {
            let landed = |n: &usize| self.net.joins_of(*n).any(|join| join.words.is_some());
            !leads.iter().any(landed)
        })
    }

    /// The conductor that a join ends, as reports name it.
    pub fn conductor_of(&self, join: usize) -> Option<String> {
        let join = self.net.joins().get(join)?;
        let wire = self.net.at(self.net.wire_side(join))?;
        matches!(wire.place, Place::Conductor { .. } | Place::Splice).then(|| wire.words())
    }

    /// A case in words: `a call for cool at stat, the freeze cut-out of ah open`.
    pub fn case_words(&self, case: &Case) -> String {
        let calls: Vec<String> = case
            .calls
            .iter()
            .filter_map(|n| self.states.get(*n))
            .filter_map(|state| {
                Some(format!(
                    "`{}` calls for {}",
                    state.thermostat.as_ref()?,
                    state.asked()
                ))
            })
            .collect();
        if calls.is_empty() {
            "no thermostat calls".to_owned()
        } else {
            calls.join(" and ")
        }
    }

    /// A case in words, with the safeties that are open: `stat` calls for heat with `pan-float` open.
    pub fn whole_words(&self, case: &Case) -> String {
        let open: Vec<String> = case
            .tripped
            .iter()
            .filter_map(|n| self.safeties.get(*n))
            .map(super::Safety::words)
            .collect();
        let calls = self.case_words(case);
        if open.is_empty() {
            calls
        } else {
            format!("{calls} with {} open", open.join(" and "))
        }
    }
}
