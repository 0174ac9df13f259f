//! The search: the change that helps most, again and again, then whatever proves needless taken out.

use std::collections::BTreeMap;

use super::change::Change;
use super::job::Job;
use super::moves::moves;
use super::standing::Standing;

/// More changes than this are a new design, not advice.
const MOST_CHANGES: usize = 32;
/// What a finding that was not there before weighs on the way, °F; at the end there may be none.
const NEW_FINDING: f64 = 2.0;
/// A step has to mend at least this much, °F, to be worth a person's hands.
const WORTH: f64 = 0.02;

/// What is aimed at.
#[derive(Clone, Copy, Debug)]
pub struct Aim {
    /// Largest spread of room temperatures over the house, °F.
    pub spread: f64,
}

/// A change in its place among the others, with what it does.
#[derive(Clone, Debug)]
pub struct Step {
    /// What is done.
    pub change: Change,
    /// How the job stands when it and all before it are done.
    pub after: Standing,
}

/// What the search found.
#[derive(Clone, Debug)]
pub struct Suggestion {
    /// How the job stands as written.
    pub start: Standing,
    /// The changes in the order in which they help most; none when nothing helps.
    pub steps: Vec<Step>,
    /// Whether the aim is reached.
    pub reached: bool,
    /// Jobs tried on the whole pipeline.
    pub trials: usize,
}

/// How far a standing is from the aim; smaller is better. None when its spread is not known.
fn distance(standing: &Standing, start: &Standing, aim: Aim) -> Option<f64> {
    let over = |spread: f64, limit: f64| (spread - limit).max(0.0);
    let summer = over(standing.spread?, aim.spread);
    // Heating may not get worse than it was, or than the aim.
    let winter = match (standing.spread_winter, start.spread_winter) {
        (Some(now), Some(was)) => over(now, was.max(aim.spread)) * 2.0,
        (None, Some(_)) => return None,
        (_, None) => 0.0,
    };
    let [errors, warnings, advice] = standing.counts.map(|n| n as f64);
    let added = NEW_FINDING * standing.added_to(start) as f64;
    Some(summer + winter + added + 3.0 * errors + 1.0 * warnings + 0.3 * advice)
}

/// Tells equals apart: how unlike the rooms are among themselves, °F.
fn unevenness(standing: &Standing) -> f64 {
    let all: Vec<f64> = standing
        .rooms
        .values()
        .filter_map(|room| room.summer)
        .collect();
    if all.is_empty() {
        return 0.0;
    }
    let mean = all.iter().sum::<f64>() / all.len() as f64;
    let square = all.iter().map(|t| (t - mean) * (t - mean)).sum::<f64>();
    libm::sqrt(square / all.len() as f64)
}

struct Search<'s> {
    start: &'s Standing,
    aim: Aim,
    trials: usize,
    try_on: &'s mut dyn FnMut(&[&Change]) -> Option<Standing>,
}

impl Search<'_> {
    /// The standing under `changes` and its cost; none when it is no answer.
    fn cost(&mut self, changes: &[&Change]) -> Option<(f64, Standing)> {
        self.trials += 1;
        let standing = (self.try_on)(changes)?;
        let far = distance(&standing, self.start, self.aim)?;
        Some((far + unevenness(&standing) * 0.5, standing))
    }

    fn reached(&self, standing: &Standing) -> bool {
        distance(standing, self.start, self.aim).is_some()
            && standing
                .spread
                .is_some_and(|spread| spread <= self.aim.spread)
    }
}

/// Changes by slot.
pub(super) type Chosen = BTreeMap<(&'static str, String), Change>;

fn key(change: &Change) -> (&'static str, String) {
    let (kind, thing) = change.slot();
    (kind, thing.to_owned())
}

fn with<'c>(chosen: &'c Chosen, more: &'c [Change]) -> Vec<&'c Change> {
    chosen
        .iter()
        .filter(|(own, _)| more.iter().all(|change| key(change) != **own))
        .map(|(_, change)| change)
        .chain(more)
        .collect()
}

fn effort(changes: &[Change]) -> f64 {
    changes.iter().map(|change| change.part.effort()).sum()
}

/// The fewest changes found that bring the house within `aim`, each tried by `try_on`, which gives the standing
/// of the job with the changes written in.
pub fn suggest(
    job: &Job<'_>,
    start: Standing,
    aim: Aim,
    try_on: &mut dyn FnMut(&[&Change]) -> Option<Standing>,
) -> Suggestion {
    let mut search = Search {
        start: &start,
        aim,
        trials: 0,
        try_on,
    };
    let mut chosen = Chosen::new();
    let mut here = start.clone();
    let mut cost = distance(&start, &start, aim).map(|far| far + unevenness(&start) * 0.5);
    while let Some(now) = cost {
        if search.reached(&here) || chosen.len() >= MOST_CHANGES {
            break;
        }
        let mut best: Option<(f64, Standing, Vec<Change>)> = None;
        for more in moves(job, &chosen, &here) {
            let Some((far, standing)) = search.cost(&with(&chosen, &more)) else {
                continue;
            };
            // A move that reaches the aim beats one that does not; among those, what mends most for its effort.
            let better = best.as_ref().is_none_or(|(least, kept, other)| {
                let (ends, ended) = (search.reached(&standing), search.reached(kept));
                ends && !ended
                    || ends == ended && (now - far) / effort(&more) > (now - least) / effort(other)
            });
            if far < now - WORTH && better {
                best = Some((far, standing, more));
            }
        }
        let Some((far, standing, more)) = best else {
            break;
        };
        chosen.extend(more.into_iter().map(|change| (key(&change), change)));
        here = standing;
        cost = Some(far);
    }
    let reached = search.reached(&here);
    // What later steps made needless goes again.
    for slot in chosen.keys().cloned().collect::<Vec<_>>() {
        let rest: Vec<&Change> = chosen
            .iter()
            .filter(|(own, _)| **own != slot)
            .map(|(_, change)| change)
            .collect();
        let needless = search.cost(&rest).is_some_and(|(far, standing)| {
            if reached {
                search.reached(&standing)
            } else {
                cost.is_some_and(|now| far <= now)
            }
        });
        if needless {
            chosen.remove(&slot);
        }
    }
    let (steps, trials) = in_order(&mut search, chosen);
    Suggestion {
        reached: steps
            .last()
            .map_or_else(|| reached, |step| search.reached(&step.after)),
        start: start.clone(),
        steps,
        trials,
    }
}

/// The chosen changes, the one that helps most first, each with the standing after it.
fn in_order(search: &mut Search<'_>, mut left: Chosen) -> (Vec<Step>, usize) {
    let mut done: Vec<Step> = Vec::new();
    while !left.is_empty() {
        let mut best: Option<((&'static str, String), f64, Standing)> = None;
        for (slot, change) in &left {
            let mut all: Vec<&Change> = done.iter().map(|step| &step.change).collect();
            all.push(change);
            search.trials += 1;
            let Some(standing) = (search.try_on)(&all) else {
                continue;
            };
            // On the way a finding may come that the next change mends again: the order alone hangs on it.
            let far = distance(&standing, search.start, search.aim).unwrap_or(1e3)
                + unevenness(&standing);
            if best.as_ref().is_none_or(|(_, least, _)| far < *least) {
                best = Some((slot.clone(), far, standing));
            }
        }
        let Some((slot, _, after)) = best else {
            break;
        };
        if let Some(change) = left.remove(&slot) {
            done.push(Step { change, after });
        }
    }
    (done, search.trials)
}
