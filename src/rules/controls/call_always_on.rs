//! A call terminal is fed by a call, not by power.

use crate::catalog::{CallSide, Role};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::controls::{Netlist, Point};

use super::{asked, from_to, last_words};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL008",
        name: "call_always_on",
        title: "call joined to power",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "No call terminal is joined to the hot side of a transformer.",
            on_site: "The unit runs without stopping, whatever the thermostat shows.",
            fix: "Land the conductor on the thermostat's call.",
        },
    },
    example: Example {
        wrong: "cable stat-cable from stat to ah { type \"18/5\", wire red from stat.R to ah.R, wire blue from stat.C to ah.C, wire green from stat.R to ah.G, wire yellow from stat.Y to ah.Y, wire white from stat.W to ah.W }",
        right: "cable stat-cable from stat to ah { type \"18/5\", wire red from stat.R to ah.R, wire blue from stat.C to ah.C, wire green from stat.G to ah.G, wire yellow from stat.Y to ah.Y, wire white from stat.W to ah.W }",
    },
    check,
};

/// A wire that comes straight from a power terminal, where the call or output that belongs on it stands free.
fn wrong_source(net: &Netlist, n: usize) -> Option<Finding> {
    let taker = net.at(n)?;
    let (_, call) = taker.call()?;
    // The terminal, its wire, the terminal at the wire's other end.
    let (from, wire) = net.joins_of(n).find_map(|join| {
        let wire = if join.one == n { join.other } else { join.one };
        let far = net.joins_of(wire).find_map(|join| {
            let far = if join.one == wire {
                join.other
            } else {
                join.one
            };
            let role = net.at(far).and_then(Point::role);
            (far != n && matches!(role, Some(Role::Power | Role::PowerIn))).then_some(far)
        })?;
        Some((far, wire))
    })?;
    let source = net.at(from)?;
    let (_, free) = net.points().find(|(m, point)| {
        let side = point.call();
        point.unit() == source.unit()
            && !net.is_wired(*m)
            && matches!(side, Some((CallSide::Out | CallSide::Output, own)) if own == call)
    })?;
    let span = net.words_between(wire, from)?;
    Some(
        Finding::new(
            &RULE.kind,
            span,
            format!(
                "the call for {} at `{}` is joined to power at `{}`",
                asked(call),
                taker.name,
                source.name
            ),
            format!("land it on `{}`", free.name),
        )
        .measured(
            Shown::word(from_to(net, from, n)),
            Relation::Not,
            Shown::word("joined"),
        )
        .edit(span, free.name.clone()),
    )
}

fn check(job: &Job<'_>, report: &mut Report) {
    let net = job.wiring.net;
    for members in net.nets() {
        let Some((hot, power)) = members
            .iter()
            .find(|(_, point)| point.role() == Some(Role::Power))
        else {
            continue;
        };
        let Some((n, call)) = members.iter().find(|(_, point)| point.call().is_some()) else {
            continue;
        };
        let word = call.call().map_or("", |(_, call)| asked(call));
        let Some(span) = last_words(net, *hot, *n).or_else(|| last_words(net, *n, *hot)) else {
            continue;
        };
        if let Some(finding) = wrong_source(net, *n) {
            report.find(finding);
            continue;
        }
        report.find(
            Finding::new(
                &RULE.kind,
                span,
                format!(
                    "the call for {word} at `{}` is joined to power at `{}`",
                    call.name, power.name
                ),
                "land this conductor on the terminal it belongs to",
            )
            .measured(
                Shown::word(from_to(net, *hot, *n)),
                Relation::Not,
                Shown::word("joined"),
            ),
        );
    }
}
