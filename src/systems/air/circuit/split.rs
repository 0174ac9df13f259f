//! Loss coefficients that hang on how the air divides where a tube or a branch leaves the trunk.

use crate::physics::duct::Section;
use crate::physics::fitting::Tee;
use crate::quantity::{AirFlow, Angle, Length};

use super::items::as_round;

/// Least share of the upstream flow that a coefficient is worked out for.
const LEAST_SHARE: f64 = 1e-6;

/// How a segment leaves the node that it starts at.
#[derive(Clone, Debug)]
pub(super) enum Leaves {
    /// From the plenum, or with nothing but what is fixed.
    Plainly,
    /// By a take-off: the trunk's velocity pressure is lost, the collar's own loss is fixed.
    TakeOff,
    /// By a tee, with the coefficient on the trunk's velocity that the catalog states, if it does.
    Tee(Option<f64>),
    /// Straight on along the trunk.
    Straight,
}

/// A segment as the split sees it.
#[derive(Clone, Debug)]
pub(super) struct Link {
    pub(super) leaves: Leaves,
    /// The segment that brings the air; none at the plenum.
    pub(super) upstream: Option<usize>,
    /// Segments that leave at the same node by take-off or tee.
    pub(super) beside: Vec<usize>,
    pub(super) area: f64,
    pub(super) round: Length,
    /// What does not hang on the split.
    pub(super) fixed: f64,
}

impl Link {
    pub(super) fn new(
        section: &Section,
        fixed: f64,
        leaves: Leaves,
        upstream: Option<usize>,
    ) -> Self {
        Self {
            leaves,
            upstream,
            beside: Vec::new(),
            area: section.area().value(),
            round: as_round(section),
            fixed,
        }
    }
}

/// A tee with what passes it; shares outside nothing and all are taken at the nearer end.
fn tee(run: &Link, branch: &Link, upstream: f64, turned: f64) -> Tee {
    let turned = turned.clamp(0.0, upstream);
    Tee {
        run: run.round,
        branch: branch.round,
        angle: Angle::new(90.0),
        run_flow: AirFlow::new(upstream - turned),
        branch_flow: AirFlow::new(turned),
    }
}

/// Coefficient of one segment on its own velocity, at the flows of all.
pub(super) fn coefficient(links: &[Link], at: usize, flow: impl Fn(usize) -> f64) -> Option<f64> {
    let link = links.get(at)?;
    let Some(upstream) = link.upstream else {
        return Some(link.fixed);
    };
    let before = links.get(upstream)?;
    let coming = flow(upstream).abs().max(1e-9);
    let own = flow(at).abs().max(coming * LEAST_SHARE);
    // Velocity pressure upstream over the segment's own.
    let speed = (coming / before.area) / (own / link.area);
    let onto_own = speed * speed;
    Some(match &link.leaves {
        Leaves::Plainly => link.fixed,
        Leaves::TakeOff => link.fixed + onto_own,
        Leaves::Tee(stated) => {
            let turn = stated.unwrap_or_else(|| tee(before, link, coming, own).branch_loss());
            link.fixed + onto_own * turn.max(0.0)
        }
        Leaves::Straight => {
            let passed: f64 = link
                .beside
                .iter()
                .filter_map(|&branch| Some(tee(before, links.get(branch)?, coming, flow(branch))))
                // Pressure that slowed air regains is not counted on.
                .map(|tee| tee.run_loss().max(0.0))
                .sum();
            link.fixed + onto_own * passed
        }
    })
}
