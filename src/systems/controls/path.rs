//! Ways along the joins of the net, and the words that name them.

use std::collections::VecDeque;

use crate::source::Span;

use super::netlist::{Netlist, Point};

/// The shortest way from one of `size` points to another, both ends included, by what stands beside each.
pub(super) fn way(
    size: usize,
    from: usize,
    to: usize,
    beside: impl Fn(usize) -> Vec<usize>,
) -> Option<Vec<usize>> {
    let mut came: Vec<Option<usize>> = vec![None; size];
    let mut ring = VecDeque::from([from]);
    while let Some(point) = ring.pop_front() {
        if point == to {
            let mut way = vec![to];
            let mut at = to;
            while at != from {
                at = came.get(at).copied().flatten()?;
                way.push(at);
            }
            way.reverse();
            return Some(way);
        }
        for there in beside(point) {
            if let Some(slot) = came.get_mut(there).filter(|slot| slot.is_none())
                && there != from
            {
                *slot = Some(point);
                ring.push_back(there);
            }
        }
    }
    None
}

impl Netlist {
    /// The shortest way from one point to another along joins, both ends included; none when they are not joined.
    pub fn path(&self, from: usize, to: usize) -> Option<Vec<usize>> {
        let beside = |point: usize| {
            let beside = self.beside.get(point).into_iter().flatten();
            beside.map(|(there, _)| *there).collect()
        };
        way(self.points().count(), from, to, beside)
    }

    /// The words that join two neighbouring points.
    pub fn words_between(&self, one: usize, other: usize) -> Option<Span> {
        self.joins_of(one)
            .find(|join| join.one == other || join.other == other)
            .and_then(|join| join.words)
    }

    /// A path in words: `stat.Y → yellow of stat-cable → ah.Y`.
    pub fn path_words(&self, path: &[usize]) -> String {
        path.iter()
            .filter_map(|point| self.at(*point))
            .map(Point::words)
            .collect::<Vec<_>>()
            .join(" → ")
    }
}
