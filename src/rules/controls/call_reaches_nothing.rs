//! Every call that the thermostat gives reaches the terminal that takes it.

use crate::catalog::{Call, CallSide};
use crate::model::Cable;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::controls::{Netlist, Place};

use super::{Lost, asked, last_words, lost_calls, wire_to_add};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL002",
        name: "call_reaches_nothing",
        title: "thermostat call that reaches nothing",
        severity: Severity::Error,
        source: "the equipment's catalog",
        why: Why {
            checks: "Each call of a thermostat that equipment of the job waits for is wired, and ends on a terminal that takes that very call.",
            on_site: "The thermostat calls for cooling and the fan runs, or nothing does; somebody replaces the thermostat.",
            fix: "Land the conductor on the terminal named in the report.",
        },
    },
    example: Example {
        wrong: "cable stat-cable from stat to ah { type \"18/5\", wire red from stat.R to ah.R, wire blue from stat.C to ah.C, wire green from stat.G to ah.G, wire yellow from stat.Y to ah.F1, wire white from stat.W to ah.W }",
        right: "cable stat-cable from stat to ah { type \"18/5\", wire red from stat.R to ah.R, wire blue from stat.C to ah.C, wire green from stat.G to ah.G, wire yellow from stat.Y to ah.Y, wire white from stat.W to ah.W }",
    },
    check,
};

/// The terminal that takes a call: an air handler's before any other.
fn taker(net: &Netlist, call: Call) -> Option<String> {
    let all = || {
        net.points()
            .filter(|(_, point)| point.call() == Some((CallSide::In, call)))
    };
    all()
        .find(|(_, point)| {
            matches!(
                point.place,
                Place::Terminal {
                    kind: "air-handler",
                    ..
                }
            )
        })
        // What the safeties have to stop is never called by the thermostat itself.
        .or_else(|| {
            all().find(|(_, point)| {
                !matches!(
                    point.kind(),
                    "outdoor-unit" | "chiller" | "boiler" | "pump" | "circulator"
                )
            })
        })
        .map(|(_, point)| point.name.clone())
}

/// The cable that leaves the thermostat.
fn cable_of<'a>(job: &Job<'a>, unit: &str) -> Option<&'a Cable> {
    let lands = |cable: &&Cable| cable.from.value == unit || cable.to.value == unit;
    job.model.cables.values().find(lands)
}

/// Whether the wire of `lost` ends where the call of `unwired` is taken.
fn takes_place(net: &Netlist, lost: &Lost, unwired: &Lost) -> bool {
    let same = |n: usize| net.at(n).and_then(|point| point.unit());
    same(lost.out) == same(unwired.out)
        && lost
            .ends
            .and_then(|end| net.at(end))
            .is_some_and(|point| point.call() == Some((CallSide::In, unwired.call)))
}

/// A wire that ends right and leaves the thermostat at the wrong terminal.
fn left_wrong(net: &Netlist, lost: &Lost, meant: &Lost) -> Option<Finding> {
    let span = net.joins_of(lost.out).find_map(|join| join.words)?;
    let (out, good, end) = (net.at(lost.out)?, net.at(meant.out)?, net.at(lost.ends?)?);
    Some(
        Finding::new(
            &RULE.kind,
            span,
            format!(
                "the call for {} at `{}` ends at `{}`, which takes the call for {}",
                asked(lost.call),
                out.name,
                end.name,
                asked(meant.call)
            ),
            format!("land it on `{}`", good.name),
        )
        .measured(
            Shown::word(out.name.clone()),
            Relation::Equal,
            Shown::word(good.name.clone()),
        )
        .edit(span, good.name.clone()),
    )
}

fn report_lost(job: &Job<'_>, net: &Netlist, lost: &Lost, report: &mut Report) {
    let Some(out) = net.at(lost.out) else { return };
    let Place::Terminal { unit, head, .. } = &out.place else {
        return;
    };
    let call = asked(lost.call);
    let taker = taker(net, lost.call);
    let needed = Shown::word(
        taker
            .clone()
            .unwrap_or_else(|| format!("a terminal that takes the call for {call}")),
    );
    if let Some(end) = lost
        .ends
        .and_then(|end| net.at(end).map(|point| (end, point)))
    {
        let (n, point) = end;
        let takes = match point.call() {
            Some((CallSide::In, other)) => format!(", which takes the call for {}", asked(other)),
            _ if point.unit().is_some() => ", which takes no call".to_owned(),
            _ => String::new(),
        };
        let span = last_words(net, lost.out, n).unwrap_or(*head);
        let help = taker.as_ref().map_or_else(
            || "take the wire out, or mark its conductor `spare`".to_owned(),
            |taker| format!("land it on `{taker}`"),
        );
        let mut finding = Finding::new(
            &RULE.kind,
            span,
            format!(
                "the call for {call} at `{}` ends at `{}`{takes}",
                out.name,
                point.words()
            ),
            help,
        )
        .measured(Shown::word(point.words()), Relation::Equal, needed);
        if let (Some(taker), true) = (taker, point.unit().is_some()) {
            finding = finding.edit(span, taker);
        }
        report.find(finding);
        return;
    }
    let cable = cable_of(job, unit);
    let to = taker.as_deref().unwrap_or("…");
    let (help, edit) = wire_to_add(job, cable, &out.name, to);
    let mut finding = Finding::new(
        &RULE.kind,
        *head,
        format!("the call for {call} at `{}` is not wired", out.name),
        help,
    )
    .measured(Shown::word("no wire"), Relation::Equal, needed);
    if let Some(cable) = cable {
        finding = finding.label(cable.span, "the cable from the thermostat");
    }
    if let Some((after, words)) = edit {
        finding = finding.edit(after, words);
    }
    report.find(finding);
}

fn check(job: &Job<'_>, report: &mut Report) {
    if job.model.cables.is_empty() {
        for thermostat in job.model.thermostats.values() {
            report.not_checked(
                &RULE.kind,
                format!("thermostat {}", thermostat.name),
                "no control cable is described",
                Some(thermostat.span),
            );
        }
        return;
    }
    let net = job.wiring.net;
    let all = lost_calls(job, net);
    for lost in &all {
        // The wire of this call leaves the thermostat at another terminal: reported there.
        let misplaced =
            lost.ends.is_none() && all.iter().any(|other| takes_place(net, other, lost));
        if misplaced {
            continue;
        }
        let meant = all
            .iter()
            .find(|other| other.ends.is_none() && takes_place(net, lost, other));
        match meant.and_then(|meant| left_wrong(net, lost, meant)) {
            Some(finding) => report.find(finding),
            None => report_lost(job, net, lost, report),
        }
    }
}
