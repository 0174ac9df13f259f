//! What findings about the truth table share: where they are shown, and what an earlier rule has told already.

use crate::rules::{Job, Report};
use crate::source::Span;
use crate::systems::controls::{Breach, Circuit, Netlist, Place};

/// What does not hold over the truth table; nothing while part of the wiring is not known or none is described.
pub(super) fn breaches<'j>(job: &'j Job<'_>) -> &'j [Breach] {
    if job.wiring.net.flawed || job.model.cables.is_empty() {
        &[]
    } else {
        job.wiring.breaches(job.model)
    }
}

/// Where a fault of a terminal is shown: its first landing, else its unit.
pub(super) fn place_of(net: &Netlist, at: usize) -> Option<Span> {
    let landing = net.joins_of(at).find_map(|join| join.words);
    landing.or_else(|| match &net.at(at)?.place {
        Place::Terminal { head, .. } => Some(*head),
        _ => None,
    })
}

/// The landings on the way of the call to `at`, and the heads of the units that it passes.
pub(super) fn spans_of_way(net: &Netlist, circuit: &Circuit<'_>, at: usize) -> Vec<Span> {
    let mut spans: Vec<Span> = Vec::new();
    for n in circuit.way(at) {
        spans.extend(net.joins_of(n).filter_map(|join| join.words));
        if let Some(Place::Terminal { head, .. }) = net.at(n).map(|point| &point.place) {
            spans.push(*head);
        }
    }
    spans
}

/// Whether an earlier finding about wiring lies on the way of the call to `at`, or at one of `others`.
pub(super) fn is_told(job: &Job<'_>, report: &Report, at: usize, others: &[Span]) -> bool {
    let spans = spans_of_way(job.wiring.net, &job.wiring.circuit, at);
    is_told_on(report, &spans)
        || shares_voltage(job, at)
        || report
            .findings
            .iter()
            .any(|finding| others.contains(&finding.span))
}

/// Whether a coil on the way of the call to `at` shares its voltage with another load, and is reported with the voltages.
pub(super) fn shares_voltage(job: &Job<'_>, at: usize) -> bool {
    let strays = job.wiring.strays(job.model, job.catalog);
    let astray = job.wiring.circuit.coils_astray(strays);
    !astray.is_empty() && {
        let way = job.wiring.circuit.way(at);
        astray.iter().any(|coil| way.contains(coil))
    }
}

/// Whether an earlier finding about wiring is shown at one of `spans`.
pub(super) fn is_told_on(report: &Report, spans: &[Span]) -> bool {
    report.findings.iter().any(|finding| {
        let code = finding.kind.code;
        let wiring = ("CTL001"..="CTL009").contains(&code)
            || ("CTL014"..="CTL027").contains(&code)
            || ("CTL035"..="CTL037").contains(&code);
        wiring && spans.contains(&finding.span)
    })
}

/// The landings of the points on a way.
pub(super) fn landings_on(net: &Netlist, way: &[usize]) -> Vec<Span> {
    way.iter()
        .flat_map(|n| net.joins_of(*n).filter_map(|join| join.words))
        .collect()
}
