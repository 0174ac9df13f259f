//! Whether a job is far enough, and described enough, for what is missing to be a fault.

use crate::model::Stage;

use super::rule::Job;

/// The trades that a whole job has beside the ducts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Trade {
    /// Condensate drains.
    Drain,
    /// The electrical feed.
    Power,
    /// Control wiring.
    Controls,
}

impl Trade {
    const ALL: [Self; 3] = [Self::Drain, Self::Power, Self::Controls];

    fn is_described(self, job: &Job<'_>) -> bool {
        match self {
            Self::Drain => !job.model.drains.is_empty(),
            Self::Power => !job.model.circuits.is_empty() || !job.model.panels.is_empty(),
            Self::Controls => !job.model.cables.is_empty() || !job.model.thermostats.is_empty(),
        }
    }
}

impl Job<'_> {
    /// Whether what is missing of `trade` is a fault: from the order on, once the other trades are described. A job
    /// that is bid, or that describes one trade alone, is said to be not checked.
    pub(super) fn misses(&self, trade: Trade) -> bool {
        self.model.job.stage >= Stage::Order
            && Trade::ALL
                .into_iter()
                .filter(|other| *other != trade)
                .all(|other| other.is_described(self))
    }
}
