//! What the calculator can do: one entry for each table.

use super::column::Column;
use super::row::{Answers, Fault, Row};
use super::{
    air_friction, condensate, conductor, control_drop, feed, fitting_loss, hydronic_coil,
    pipe_dims, psychrometrics, pump_head, trap_seal, voltage_drop, water_friction,
};

/// One table of the calculator.
pub(super) struct Bench {
    /// As it is typed.
    pub(super) name: &'static str,
    /// What it computes.
    pub(super) about: &'static str,
    /// Its columns in their usual order.
    pub(super) columns: &'static [Column],
    /// From inputs to results.
    pub(super) work: fn(&Row) -> Result<Answers, Fault>,
}

/// All of them, in the order in which they are listed.
pub(super) const BENCHES: &[Bench] = &[
    psychrometrics::BENCH,
    air_friction::BENCH,
    fitting_loss::BENCH,
    condensate::BENCH,
    trap_seal::BENCH,
    pump_head::BENCH,
    water_friction::BENCH,
    hydronic_coil::BENCH,
    pipe_dims::BENCH,
    conductor::BENCH,
    voltage_drop::BENCH,
    feed::BENCH,
    control_drop::BENCH,
];

impl Bench {
    /// The bench of a name.
    pub(super) fn named(name: &str) -> Option<&'static Self> {
        BENCHES.iter().find(|bench| bench.name == name)
    }

    /// Answers for one case, or everything that is wrong with it.
    pub(super) fn answer(&self, row: &Row) -> Result<Answers, Vec<Fault>> {
        let faults = row.faults();
        if !faults.is_empty() {
            return Err(faults);
        }
        let answers = (self.work)(row).map_err(|fault| vec![fault])?;
        if answers.finite() {
            Ok(answers)
        } else {
            Err(vec![Fault::new("the result is no finite number")])
        }
    }
}
