//! Whatever else is wired: what a thermostat calls for is fed while nothing has tripped.

use crate::catalog::Call;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};
use crate::systems::controls::{Breach, Case, Place};

use super::proved::{breaches, is_told, place_of};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL026",
        name: "call_lost",
        title: "call that does not reach what it is for",
        severity: Severity::Error,
        source: "the equipment's catalog; the wiring run for every call",
        why: Why {
            checks: "The wiring is run for every call with no safety open: the air handler, the outdoor unit, the boiler and the circulator's relay that belong to the calling thermostat are fed.",
            on_site: "The thermostat calls and nothing happens, or half of it: the blower runs and no water comes.",
            fix: "Follow the call from the thermostat and land the wire on the terminal named in the report.",
        },
    },
    example: Example {
        wrong: "cable stat-cable from stat to ah { type \"18/5\", wire red from stat.R to ah.R, wire green from other-stat.G to ah.G }",
        right: "cable stat-cable from stat to ah { type \"18/5\", wire red from stat.R to ah.R, wire green from stat.G to ah.G }",
    },
    check,
};

/// The calling thermostat and where the conductors of its call land: a call that is lost there is told there.
fn caller(job: &Job<'_>, call: Option<Call>, case: &Case) -> Vec<Span> {
    let (net, circuit) = (job.wiring.net, &job.wiring.circuit);
    let mut out = Vec::new();
    for state in case.calls.iter().filter_map(|n| circuit.states().get(*n)) {
        for (n, point) in net.points() {
            let Place::Terminal { unit, head, .. } = &point.place else {
                continue;
            };
            if Some(unit) != state.thermostat.as_ref() {
                continue;
            }
            out.push(*head);
            if point.call().map(|(_, own)| own) == call {
                let members = net.members(net.net(n));
                out.extend(
                    members.flat_map(|(m, _)| net.joins_of(m).filter_map(|join| join.words)),
                );
            }
        }
    }
    out
}

fn check(job: &Job<'_>, report: &mut Report) {
    let (net, circuit) = (job.wiring.net, &job.wiring.circuit);
    for breach in breaches(job) {
        let Breach::Lost { load, case } = breach else {
            continue;
        };
        let Some(at) = circuit.loads().get(*load) else {
            continue;
        };
        if is_told(job, report, at.at, &caller(job, at.wanted(), case)) {
            continue;
        }
        let Some(span) = place_of(net, at.at) else {
            continue;
        };
        let name = net.at(at.at).map_or("", |point| point.name.as_str());
        let ends: Vec<String> = net
            .members(net.net(at.at))
            .filter(|(n, point)| *n != at.at && point.unit().is_some())
            .map(|(_, point)| format!("`{}`", point.name))
            .collect();
        let help = if ends.is_empty() {
            format!("wire `{name}`, both sides, to its own air handler; now nothing lands on it")
        } else {
            format!(
                "wire `{name}`, both sides, to its own air handler; now joined to {}",
                ends.join(", ")
            )
        };
        report.find(
            Finding::new(
                &RULE.kind,
                span,
                format!("{} and `{name}` is not fed", circuit.case_words(case)),
                help,
            )
            .measured(Shown::word("not fed"), Relation::Equal, Shown::word("fed")),
        );
    }
}
