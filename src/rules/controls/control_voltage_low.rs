//! Enough of the transformer's voltage is left at the far end of the control cables.

use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};
use crate::systems::controls::{Breach, CONTROL_VOLTS};

use super::proved::{breaches, is_told, place_of};

/// Greatest usual loss in control cables, percent of the source.
const USUAL: f64 = 10.0;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL028",
        name: "control_voltage_low",
        title: "control voltage too low at the far end",
        severity: Severity::Error,
        source: "the equipment's catalog for the voltage at which a coil pulls in; NEC chapter 9 table 8 for the conductors; 10 % by common practice",
        why: Why {
            checks: "The control wiring is solved with the resistance of each conductor while a coil pulls in: its voltage is not below the least at which it does so. Where the catalog gives none, losing more than a tenth of 24 V is a warning.",
            on_site: "The contactor at the end of a long thin cable chatters, its contacts burn, and the compressor short-cycles.",
            fix: "Take a cable of the next larger gauge, or a shorter way.",
        },
    },
    example: Example {
        wrong: "cable ou-cable from ah to ou { type \"18/2\", measured 900 ft, wire red from ah.YO to ou.Y, wire white from ah.C to ou.C }",
        right: "cable ou-cable from ah to ou { type \"18/2\", measured 55 ft, wire red from ah.YO to ou.Y, wire white from ah.C to ou.C }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let (net, circuit) = (job.wiring.net, &job.wiring.circuit);
    if net.flawed || job.model.cables.is_empty() || circuit.is_shorted() {
        return;
    }
    // Of two transformers that drive each other no voltage can be foretold.
    let joined = |breach: &Breach| matches!(breach, Breach::Joined { .. });
    if breaches(job).iter().any(joined) {
        return;
    }
    let ohms = circuit.ohms(job.model, job.catalog);
    for cable in &ohms.unknown {
        let span = job.model.cables.get(cable).map(|cable| cable.span);
        report.not_checked(
            &RULE.kind,
            format!("cable {cable}"),
            "its length or its gauge is not known",
            span,
        );
    }
    let own = Limit::default_of(USUAL, "common practice", Severity::Warning);
    let most = job.limit(
        &RULE.kind,
        ("drop", Dimension::Ratio),
        Relation::AtMost,
        own,
        report,
    );
    for lowest in circuit.lowest_volts(&ohms, &circuit.calls_alone()) {
        let Some(load) = circuit.loads().get(lowest.load) else {
            continue;
        };
        let pulls_at = ohms.draws().get(lowest.load).and_then(|draw| draw.pulls_at);
        let least = pulls_at.unwrap_or(CONTROL_VOLTS * (1.0 - most.value / 100.0));
        if lowest.volts >= least || is_told(job, report, load.at, &[]) {
            continue;
        }
        let Some(span) = place_of(net, load.at) else {
            continue;
        };
        let name = net.at(load.at).map_or("", |point| point.name.as_str());
        let (found, needed) = show_pair(lowest.volts, least, Dimension::Voltage);
        let mut finding = Finding::new(
            &RULE.kind,
            span,
            format!(
                "{} and too little voltage reaches `{name}`",
                circuit.case_words(&lowest.case)
            ),
            "take a cable of the next larger gauge on its way, or a shorter one",
        )
        .measured(found, Relation::AtLeast, needed);
        if pulls_at.is_none() {
            finding = finding.severity(most.severity).source(most.source.clone());
        }
        report.find(finding);
    }
}
