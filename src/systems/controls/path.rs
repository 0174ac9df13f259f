//! Ways along the joins of the net, and the words that name them.

use crate::source::Span;

use super::netlist::{Netlist, Point};

impl Netlist {
    /// The shortest way from one point to another along joins, both ends included; none when they are not joined.
    pub fn path(&self, from: usize, to: usize) -> Option<Vec<usize>> {
        let mut came: Vec<Option<usize>> = vec![None; self.points().count()];
        let mut ring = std::collections::VecDeque::from([from]);
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
            for (there, _) in self.beside.get(point).into_iter().flatten() {
                if let Some(slot) = came.get_mut(*there).filter(|slot| slot.is_none())
                    && *there != from
                {
                    *slot = Some(point);
                    ring.push_back(*there);
                }
            }
        }
        None
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
