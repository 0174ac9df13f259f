//! Solves the balance of flows for pressures by eliminating node after node, fewest neighbours first.
//!
//! Conductances to neighbours and to the ground are kept apart, so that nothing is ever subtracted:
//! ducts that differ by many powers of ten do not spoil each other. On a tree each node costs one step.

#![expect(
    clippy::indexing_slicing,
    reason = "every index is made here from the edges and stays below their count"
)]

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

use super::graph::Edge;

/// One node taken out.
#[derive(Clone, Debug)]
struct Step {
    node: usize,
    /// Neighbours left at that time, each with the slot of its conductance.
    links: Vec<(usize, usize)>,
    /// Pairs of those neighbours, by place in `links`, with the slot that takes what passes between them.
    fills: Vec<(usize, usize, usize)>,
}

/// The order of elimination with its conductances.
#[derive(Clone, Debug)]
pub(super) struct Elimination {
    /// Slot of each edge; none when it ends at the ground.
    slots: Vec<Option<usize>>,
    steps: Vec<Step>,
    conductance: Vec<f64>,
    ground: Vec<f64>,
    /// Sum of a node's conductances when it is taken out.
    whole: Vec<f64>,
}

fn pair(a: usize, b: usize) -> (usize, usize) {
    (a.min(b), a.max(b))
}

impl Elimination {
    /// Finds the order for `count` free nodes.
    pub(super) fn of(count: usize, edges: &[Edge]) -> Self {
        let mut slot_of: BTreeMap<(usize, usize), usize> = BTreeMap::new();
        let mut beside: Vec<Vec<usize>> = vec![Vec::new(); count];
        let mut slots = Vec::with_capacity(edges.len());
        let mut join = |a: usize, b: usize, beside: &mut Vec<Vec<usize>>| {
            let next = slot_of.len();
            *slot_of.entry(pair(a, b)).or_insert_with(|| {
                beside[a].push(b);
                beside[b].push(a);
                next
            })
        };
        for edge in edges {
            slots.push(match (edge.from, edge.to) {
                (Some(a), Some(b)) => Some(join(a, b, &mut beside)),
                _ => None,
            });
        }
        let mut left: Vec<usize> = beside.iter().map(Vec::len).collect();
        let mut queue: BinaryHeap<Reverse<(usize, usize)>> = left
            .iter()
            .enumerate()
            .map(|(node, degree)| Reverse((*degree, node)))
            .collect();
        let mut gone = vec![false; count];
        let mut steps = Vec::with_capacity(count);
        while let Some(Reverse((degree, node))) = queue.pop() {
            if gone[node] || degree != left[node] {
                continue;
            }
            gone[node] = true;
            let others: Vec<usize> = beside[node].iter().copied().filter(|n| !gone[*n]).collect();
            let mut fills = Vec::new();
            for (i, &a) in others.iter().enumerate() {
                for (j, &b) in others.iter().enumerate().skip(i + 1) {
                    let before = beside[a].len();
                    let slot = join(a, b, &mut beside);
                    if beside[a].len() > before {
                        left[a] += 1;
                        left[b] += 1;
                    }
                    fills.push((i, j, slot));
                }
            }
            let links = others
                .iter()
                .map(|&other| (other, join(node, other, &mut beside)))
                .collect();
            for &other in &others {
                left[other] -= 1;
                queue.push(Reverse((left[other], other)));
            }
            steps.push(Step { node, links, fills });
        }
        let pairs = slot_of.len();
        Self {
            slots,
            steps,
            conductance: vec![0.0; pairs],
            ground: vec![0.0; count],
            whole: vec![0.0; count],
        }
    }

    /// Takes the conductance of each edge.
    pub(super) fn factor(&mut self, edges: &[Edge], of_edge: &[f64]) {
        self.conductance.fill(0.0);
        self.ground.fill(0.0);
        for ((edge, slot), g) in edges.iter().zip(&self.slots).zip(of_edge) {
            match (slot, edge.from.or(edge.to)) {
                (Some(slot), _) => self.conductance[*slot] += g,
                (None, Some(node)) => self.ground[node] += g,
                (None, None) => {}
            }
        }
        for step in &self.steps {
            let own = self.ground[step.node];
            let whole = step
                .links
                .iter()
                .fold(own, |sum, (_, slot)| sum + self.conductance[*slot]);
            self.whole[step.node] = whole;
            for (other, slot) in &step.links {
                self.ground[*other] += self.conductance[*slot] / whole * own;
            }
            for (i, j, slot) in &step.fills {
                let (a, b) = (
                    self.conductance[step.links[*i].1],
                    self.conductance[step.links[*j].1],
                );
                self.conductance[*slot] += a / whole * b;
            }
        }
    }

    /// Pressures for what is put into each node; `flows` is used up and becomes the pressures.
    pub(super) fn solve(&self, flows: &mut [f64]) {
        for step in &self.steps {
            let share = flows[step.node] / self.whole[step.node];
            for (other, slot) in &step.links {
                flows[*other] += share * self.conductance[*slot];
            }
        }
        for step in self.steps.iter().rev() {
            let sum = step
                .links
                .iter()
                .fold(flows[step.node], |sum, (other, slot)| {
                    sum + self.conductance[*slot] * flows[*other]
                });
            flows[step.node] = sum / self.whole[step.node];
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ring_of_resistors_with_one_to_ground() {
        let edge = |from, to| Edge {
            from,
            to,
            held: 0.0,
        };
        let edges = [
            edge(Some(0), Some(1)),
            edge(Some(1), Some(2)),
            edge(Some(2), Some(3)),
            edge(Some(3), Some(0)),
            edge(Some(0), None),
            edge(Some(0), Some(2)),
        ];
        let g = [1.0, 2.0, 3.0, 4.0, 0.5, 1e9];
        let mut order = Elimination::of(4, &edges);
        order.factor(&edges, &g);
        let put = [0.0, 1.0, -2.0, 4.0];
        let mut p = put;
        order.solve(&mut p);
        for (node, wanted) in put.iter().enumerate() {
            let mut out = 0.0;
            for (edge, g) in edges.iter().zip(g) {
                let at = |n: Option<usize>| n.map_or(0.0, |n| p[n]);
                let flow = g * (at(edge.from) - at(edge.to));
                if edge.from == Some(node) {
                    out += flow;
                }
                if edge.to == Some(node) {
                    out -= flow;
                }
            }
            assert!((out - wanted).abs() < 1e-5, "{node} {out}");
        }
        assert!((p[0] - 3.0 / 0.5).abs() < 1e-12);
    }
}
