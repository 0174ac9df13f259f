//! Solves the balance of flows for pressures by eliminating node after node, fewest neighbours first.
//!
//! Conductances to neighbours and to the ground are kept apart, so that nothing is ever subtracted:
//! ducts that differ by many powers of ten do not spoil each other. On a tree each node costs one step.

#![expect(
    clippy::indexing_slicing,
    reason = "every index is made here from the edges and stays below their count"
)]

use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::ops::Range;

use super::graph::Edge;

/// One node taken out.
#[derive(Clone, Debug)]
struct Step {
    node: usize,
    /// Its part of the links: neighbours left at that time, each with the slot of its conductance.
    links: Range<usize>,
    /// Its part of the fills: pairs of those neighbours by their slots, with the slot that takes what passes between.
    fills: Range<usize>,
}

/// The order of elimination with its conductances.
#[derive(Clone, Debug)]
pub(super) struct Elimination {
    /// Slot of each edge; none when it ends at the ground.
    slots: Vec<Option<usize>>,
    steps: Vec<Step>,
    links: Vec<(usize, usize)>,
    fills: Vec<(usize, usize, usize)>,
    conductance: Vec<f64>,
    ground: Vec<f64>,
    /// Sum of a node's conductances when it is taken out.
    whole: Vec<f64>,
}

/// Which nodes stand beside each other, with the slot of what is between them.
struct Beside {
    of: Vec<Vec<(usize, usize)>>,
    slots: usize,
}

impl Beside {
    /// The slot between two nodes, found at the one with fewer neighbours; whether it is new.
    fn join(&mut self, a: usize, b: usize) -> (usize, bool) {
        let (few, other) = if self.of[a].len() <= self.of[b].len() {
            (a, b)
        } else {
            (b, a)
        };
        let known = self.of[few].iter().find(|(node, _)| *node == other);
        if let Some((_, slot)) = known {
            return (*slot, false);
        }
        let slot = self.slots;
        self.slots += 1;
        self.of[a].push((b, slot));
        self.of[b].push((a, slot));
        (slot, true)
    }
}

impl Elimination {
    /// Finds the order for `count` free nodes.
    pub(super) fn of(count: usize, edges: &[Edge]) -> Self {
        let mut beside = Beside {
            of: vec![Vec::new(); count],
            slots: 0,
        };
        let slots: Vec<Option<usize>> = edges
            .iter()
            .map(|edge| match (edge.from, edge.to) {
                (Some(a), Some(b)) => Some(beside.join(a, b).0),
                _ => None,
            })
            .collect();
        let mut left: Vec<usize> = beside.of.iter().map(Vec::len).collect();
        let mut queue: BinaryHeap<Reverse<(usize, usize)>> = left
            .iter()
            .enumerate()
            .map(|(node, degree)| Reverse((*degree, node)))
            .collect();
        let mut gone = vec![false; count];
        let mut steps = Vec::with_capacity(count);
        let mut links: Vec<(usize, usize)> = Vec::with_capacity(edges.len());
        let mut fills = Vec::new();
        while let Some(Reverse((degree, node))) = queue.pop() {
            if gone[node] || degree != left[node] {
                continue;
            }
            gone[node] = true;
            let (first_link, first_fill) = (links.len(), fills.len());
            links.extend(beside.of[node].iter().filter(|(other, _)| !gone[*other]));
            for i in first_link..links.len() {
                for j in i + 1..links.len() {
                    let ((a, own), (b, other)) = (links[i], links[j]);
                    let (slot, new) = beside.join(a, b);
                    if new {
                        left[a] += 1;
                        left[b] += 1;
                    }
                    fills.push((own, other, slot));
                }
            }
            for (other, _) in &links[first_link..] {
                left[*other] -= 1;
                queue.push(Reverse((left[*other], *other)));
            }
            steps.push(Step {
                node,
                links: first_link..links.len(),
                fills: first_fill..fills.len(),
            });
        }
        Self {
            slots,
            steps,
            links,
            fills,
            conductance: vec![0.0; beside.slots],
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
            let links = &self.links[step.links.clone()];
            let whole = links
                .iter()
                .fold(own, |sum, (_, slot)| sum + self.conductance[*slot]);
            self.whole[step.node] = whole;
            for (other, slot) in links {
                self.ground[*other] += self.conductance[*slot] / whole * own;
            }
            for (a, b, slot) in &self.fills[step.fills.clone()] {
                let through = self.conductance[*a] / whole * self.conductance[*b];
                self.conductance[*slot] += through;
            }
        }
    }

    /// Pressures for what is put into each node; `flows` is used up and becomes the pressures.
    pub(super) fn solve(&self, flows: &mut [f64]) {
        for step in &self.steps {
            let share = flows[step.node] / self.whole[step.node];
            for (other, slot) in &self.links[step.links.clone()] {
                flows[*other] += share * self.conductance[*slot];
            }
        }
        for step in self.steps.iter().rev() {
            let sum = self.links[step.links.clone()]
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
