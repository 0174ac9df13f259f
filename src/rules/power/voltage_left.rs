//! What a circuit may lose running and at the start, and the cable that loses no more.

use crate::catalog::{Cable, Stated};
use crate::model::Circuit;
use crate::physics::conductor::Size;
use crate::physics::feed::{drop_of, least_for_drop};
use crate::quantity::{Current, Dimension, Length, Voltage, trade_length};
use crate::rules::{Job, Limit, Report};
use crate::source::{Finding, Relation, Severity, Spanned};
use crate::systems::power::{cable_of, ground_lacking, plate_of};

use super::{starting_voltage_low, voltage_drop_high};

/// Recommended greatest loss in a branch circuit, percent (NEC 210.19, informational note).
const RUNNING: f64 = 3.0;
/// Greatest loss at the start where the maker names no voltage, percent: what NEC 695.7 allows the motor of a fire pump,
/// from memory, and common practice for others.
const STARTING: f64 = 15.0;

/// A loss and its limit.
pub(super) struct Loss {
    /// Percent lost, or volts left where the maker names the voltage.
    pub(super) found: f64,
    /// What it may be.
    pub(super) limit: Limit<f64>,
    /// Whether it is volts left.
    pub(super) volts: bool,
    /// Allowed loss over the loss found: below 1 where too much is lost.
    pub(super) ratio: f64,
}

impl Loss {
    /// Whether it passes.
    pub(super) fn passes(&self) -> bool {
        if self.volts {
            self.found >= self.limit.value
        } else {
            self.found <= self.limit.value
        }
    }
}

/// The loss at the running current.
pub(super) fn running(job: &Job<'_>, circuit: &Circuit, report: &mut Report) -> Option<Loss> {
    let kind = &voltage_drop_high::RULE.kind;
    let found = job.ledger.real(&format!("circuit.{}.drop", circuit.name))?;
    let own = Limit::default_of(RUNNING, kind.source, kind.severity);
    let name = ("drop", Dimension::Ratio);
    let limit = job.limit(kind, name, Relation::AtMost, own, report);
    Some(Loss {
        found,
        volts: false,
        ratio: limit.value / found,
        limit,
    })
}

/// The loss at the start: against the voltage at which the maker says that the motor starts, else a share.
pub(super) fn starting(job: &Job<'_>, circuit: &Circuit, report: &mut Report) -> Option<Loss> {
    let kind = &starting_voltage_low::RULE.kind;
    let figure = |what: &str| job.ledger.real(&format!("circuit.{}.{what}", circuit.name));
    let found = figure("start-drop")?;
    let plate = plate_of(job.model, job.catalog, circuit)?;
    let supply = circuit.volts?.value;
    let fits = plate.supply.get()?.holds(Voltage::new(supply));
    let starts = plate.loads.and_then(|loads| loads.starts_at.as_ref());
    if let Some((stated, least)) = starts.and_then(|stated| Some((stated, Stated::get(stated)?))) {
        let left = figure("start-volts")?;
        return fits.then(|| Loss {
            found: left,
            limit: Limit::of_catalog(least.value(), stated.span),
            volts: true,
            ratio: (supply - least.value()) / (supply - left),
        });
    }
    let own = Limit::default_of(STARTING, kind.source, Severity::Warning);
    let name = ("start-drop", Dimension::Ratio);
    let limit = job.limit(kind, name, Relation::AtMost, own, report);
    fits.then(|| Loss {
        found,
        volts: false,
        ratio: limit.value / found,
        limit,
    })
}

/// What the circuit loses through a conductor at one ampere, percent.
fn at_one_ampere(size: Size, volts: f64, length: Length) -> Option<f64> {
    let lost = drop_of(size, Voltage::new(volts), Current::new(1.0), length)?;
    Some(lost.share.value())
}

/// A finding with what mends it: a cable of the catalog, else the size and the length that would do, so that the
/// circuit loses no more than `ratio` of what it loses.
pub(super) fn mended(
    job: &Job<'_>,
    circuit: &Circuit,
    (length, ratio): (Spanned<Length>, f64),
    finding: impl FnOnce(String) -> Finding,
) -> Finding {
    let cable = cable_of(job.catalog, circuit);
    let size = cable.and_then(|cable| cable.gauge.get().and_then(Size::awg));
    let volts = circuit.volts.map_or(0.0, |volts| volts.value);
    let most = size
        .and_then(|size| at_one_ampere(size, volts, length.value))
        .map(|own| own * ratio);
    let loses = |other: &Cable| at_one_ampere(Size::awg(other.gauge.get()?)?, volts, length.value);
    let better = cable.zip(most).and_then(|(cable, most)| {
        job.catalog
            .cables
            .iter()
            .filter(|(_, other)| cable.made_like(other))
            .filter(|(_, other)| ground_lacking(job.model, circuit, other, job.ledger).is_none())
            .filter_map(|(name, other)| Some((name, loses(other)?)))
            .filter(|(_, lost)| *lost <= most)
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(name, _)| name)
    });
    let within = trade_length(Length::nearest(
        (length.value.to_feet() * ratio.max(0.0)).floor() * 12.0,
    ));
    let thick = size.zip(most).and_then(|(size, most)| {
        let (volts, one) = (Voltage::new(volts), Current::new(1.0));
        least_for_drop(size, volts, one, length.value, most)
    });
    let help = match (better, thick) {
        (Some(name), _) => format!("write `cable \"{name}\"`"),
        (None, Some(size)) => {
            format!(
                "no cable of the catalogs does: take {size}, its ground grown with it, or keep the way to {within}"
            )
        }
        (None, None) => format!("keep the way to {within}"),
    };
    let finding = finding(help);
    match &circuit.cable {
        Some(item) => {
            let finding = finding.label(item.span, "through this cable");
            match better {
                Some(name) => finding.edit(item.span, format!("\"{name}\"")),
                None => finding,
            }
        }
        None => finding,
    }
}
