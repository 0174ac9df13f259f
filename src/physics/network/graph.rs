//! How the parts hang together: every held node is one ground; a tree of the easiest ways carries
//! flow balance exactly, and what is not in the tree closes the loops.

#![expect(
    clippy::indexing_slicing,
    reason = "every index is a node or segment of the network that made it"
)]

use super::{Network, Unsolvable};
use crate::quantity::Pressure;

/// A segment seen from the graph; none is the ground.
#[derive(Clone, Copy, Debug)]
pub(super) struct Edge {
    /// Free node that flow is counted from.
    pub(super) from: Option<usize>,
    /// Free node that flow is counted to.
    pub(super) to: Option<usize>,
    /// Held pressure at the ground ends: from less to.
    pub(super) held: f64,
}

/// The way of one free node towards the ground.
#[derive(Clone, Copy, Debug)]
pub(super) struct Way {
    /// The node.
    pub(super) node: usize,
    /// The next node; none is the ground.
    pub(super) next: Option<usize>,
    /// The segment between.
    pub(super) edge: usize,
    /// Whether the segment counts flow towards the ground.
    pub(super) forward: bool,
}

/// Nodes, edges and the tree.
#[derive(Clone, Debug)]
pub(super) struct Graph {
    /// Free number of each node; none when held.
    pub(super) free: Vec<Option<usize>>,
    /// One for each segment.
    pub(super) edges: Vec<Edge>,
    /// Ways from the ground outwards.
    pub(super) ways: Vec<Way>,
    /// Segments that are in no way.
    pub(super) chords: Vec<usize>,
}

fn root(of: &mut [usize], mut at: usize) -> usize {
    while of[at] != at {
        of[at] = of[of[at]];
        at = of[at];
    }
    at
}

impl Graph {
    /// Checks that everything hangs together; the tree is laid later, when flows are known.
    pub(super) fn of(network: &Network) -> Result<Self, Vec<Unsolvable>> {
        let nodes = &network.nodes;
        let name = |node: usize| nodes.get(node).map_or(String::new(), |n| n.id.clone());
        let mut faults = Vec::new();
        let ends = network
            .segments
            .iter()
            .flat_map(|segment| [segment.from, segment.to])
            .chain([network.source.inlet, network.source.outlet]);
        if let Some(beyond) = ends.into_iter().find(|node| *node >= nodes.len()) {
            return Err(vec![Unsolvable::NoSuchNode(beyond)]);
        }
        if nodes.iter().all(|node| node.fixed.is_none()) {
            faults.push(Unsolvable::NothingFixed);
        }
        if network.source.inlet == network.source.outlet {
            faults.push(Unsolvable::SourceLoop(name(network.source.inlet)));
        }
        for segment in &network.segments {
            if segment.from == segment.to {
                faults.push(Unsolvable::SegmentLoop(segment.id.clone()));
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let mut count = 0;
        let free: Vec<Option<usize>> = nodes
            .iter()
            .map(|node| {
                node.fixed.is_none().then(|| {
                    count += 1;
                    count - 1
                })
            })
            .collect();
        let held = |node: usize| nodes[node].fixed.map_or(0.0, Pressure::value);
        let edges: Vec<Edge> = network
            .segments
            .iter()
            .map(|segment| Edge {
                from: free[segment.from],
                to: free[segment.to],
                held: held(segment.from) - held(segment.to),
            })
            .collect();
        cut_off(network, &free, &mut faults);
        adrift(network, &mut faults);
        if faults.is_empty() {
            Ok(Self {
                free,
                edges,
                ways: Vec::new(),
                chords: Vec::new(),
            })
        } else {
            Err(faults)
        }
    }

    /// Lays the tree along the segments of least slope: what rounding does to their flows matters least.
    pub(super) fn lay(&mut self, slopes: &[f64]) {
        let count = self.free.iter().flatten().count();
        (self.ways, self.chords) = tree(count, &self.edges, slopes);
    }
}

/// Outlets that hang on no free node of the source's side.
fn cut_off(network: &Network, free: &[Option<usize>], faults: &mut Vec<Unsolvable>) {
    let mut of: Vec<usize> = (0..network.nodes.len()).collect();
    for segment in &network.segments {
        if free[segment.from].is_some() && free[segment.to].is_some() {
            let (a, b) = (root(&mut of, segment.from), root(&mut of, segment.to));
            of[a] = b;
        }
    }
    let source = root(&mut of, network.source.outlet);
    for segment in network.segments.iter().filter(|segment| segment.outlet) {
        let reached = [segment.from, segment.to]
            .into_iter()
            .any(|end| root(&mut of, end) == source);
        if !reached {
            faults.push(Unsolvable::OutletCutOff(segment.id.clone()));
        }
    }
}

/// Nodes that no segment joins, however far round, to a held one.
fn adrift(network: &Network, faults: &mut Vec<Unsolvable>) {
    let ground = network.nodes.len();
    let mut of: Vec<usize> = (0..=ground).collect();
    let held = |node: usize| {
        if network.nodes[node].fixed.is_some() {
            ground
        } else {
            node
        }
    };
    for segment in &network.segments {
        let a = root(&mut of, held(segment.from));
        let b = root(&mut of, held(segment.to));
        of[a] = b;
    }
    let grounded = root(&mut of, ground);
    for (at, node) in network.nodes.iter().enumerate() {
        if root(&mut of, held(at)) != grounded {
            faults.push(Unsolvable::Adrift(node.id.clone()));
        }
    }
}

/// The tree of least slopes (Kruskal), as ways from the ground outwards, and the chords.
fn tree(count: usize, edges: &[Edge], slopes: &[f64]) -> (Vec<Way>, Vec<usize>) {
    let ground = count;
    let end = |node: Option<usize>| node.unwrap_or(ground);
    let mut order: Vec<(f64, usize)> = slopes.iter().copied().zip(0..edges.len()).collect();
    order.sort_unstable_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let mut of: Vec<usize> = (0..=count).collect();
    let mut chords = Vec::new();
    let mut taken = Vec::with_capacity(count);
    // Where each node's edges of the tree start in one list.
    let mut starts = vec![0; count + 2];
    for (_, at) in order {
        let (from, to) = (end(edges[at].from), end(edges[at].to));
        let (a, b) = (root(&mut of, from), root(&mut of, to));
        if a == b {
            chords.push(at);
        } else {
            of[a] = b;
            taken.push(at);
            starts[from + 1] += 1;
            starts[to + 1] += 1;
        }
    }
    for node in 0..=count {
        starts[node + 1] += starts[node];
    }
    let mut next_place = starts.clone();
    let mut beside = vec![0; 2 * taken.len()];
    for at in taken {
        for node in [end(edges[at].from), end(edges[at].to)] {
            beside[next_place[node]] = at;
            next_place[node] += 1;
        }
    }
    chords.sort_unstable();
    let mut seen = vec![false; count];
    let mut ways: Vec<Way> = Vec::with_capacity(count);
    let mut reach = |here: usize, ways: &mut Vec<Way>| {
        for &at in &beside[starts[here]..starts[here + 1]] {
            let (from, to) = (end(edges[at].from), end(edges[at].to));
            let (node, forward) = if from == here {
                (to, false)
            } else {
                (from, true)
            };
            if node != ground && !seen[node] {
                seen[node] = true;
                ways.push(Way {
                    node,
                    next: (here != ground).then_some(here),
                    edge: at,
                    forward,
                });
            }
        }
    };
    reach(ground, &mut ways);
    let mut next = 0;
    while let Some(way) = ways.get(next).copied() {
        reach(way.node, &mut ways);
        next += 1;
    }
    (ways, chords)
}
