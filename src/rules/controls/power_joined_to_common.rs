//! Hot side and common of a transformer never meet.

use crate::catalog::{Call, CallSide, Role};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::controls::Netlist;

use super::{asked, from_to, last_words};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL006",
        name: "power_joined_to_common",
        title: "24 V power joined to common",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "No terminal of the hot side, and no call or output that is hot while it is up, is joined to a common terminal, by whatever way.",
            on_site: "The transformer blows its fuse or burns out the moment the breaker is closed or the call comes.",
            fix: "Land the conductor on the terminal it belongs to.",
        },
    },
    example: Example {
        wrong: "cable stat-cable from stat to ah { type \"18/5\", wire red from stat.R to ah.R, wire blue from stat.C to ah.R, wire green from stat.G to ah.G, wire yellow from stat.Y to ah.Y, wire white from stat.W to ah.W }",
        right: "cable stat-cable from stat to ah { type \"18/5\", wire red from stat.R to ah.R, wire blue from stat.C to ah.C, wire green from stat.G to ah.G, wire yellow from stat.Y to ah.Y, wire white from stat.W to ah.W }",
    },
    check,
};

/// A call or output on common: at the first landing behind it, with the terminal that stands free beside it.
fn call_on_common(net: &Netlist, hot: usize, cold: usize, call: Call) -> Option<Finding> {
    let path = net.path(hot, cold)?;
    // hot, its conductor, the landing.
    let (conductor, landing) = (*path.get(1)?, *path.get(2)?);
    let span = net.words_between(conductor, landing)?;
    let at = net.at(landing)?;
    let free = net.points().find(|(n, point)| {
        let fits = match at.role() {
            Some(Role::Coil) => point.role() == Some(Role::Coil),
            _ => point.call() == Some((CallSide::In, call)),
        };
        let unit = if at.role() == Some(Role::Common) && at.kind() == "air-handler" {
            net.at(hot).and_then(|hot| hot.unit()) != Some(at.unit().unwrap_or(""))
                && point.unit() == at.unit()
        } else {
            point.unit() == at.unit()
        };
        *n != landing && fits && unit && !net.is_wired(*n)
    });
    let (hot_name, cold_name) = (&net.at(hot)?.name, &net.at(cold)?.name);
    let mut finding = Finding::new(
        &RULE.kind,
        span,
        format!(
            "the call for {} at `{hot_name}` is joined to common at `{cold_name}`",
            asked(call)
        ),
        free.map_or_else(
            || "land this conductor on the terminal it belongs to".to_owned(),
            |(_, free)| format!("land it on `{}`", free.name),
        ),
    )
    .measured(
        Shown::word(net.path_words(&path)),
        Relation::Not,
        Shown::word("joined"),
    );
    if let Some((_, free)) = free {
        finding = finding.edit(span, free.name.clone());
    }
    Some(finding)
}

fn check(job: &Job<'_>, report: &mut Report) {
    let net = job.wiring.net;
    let mut told: Vec<[String; 2]> = Vec::new();
    for members in net.nets() {
        let with = |role: Role| members.iter().find(|(_, point)| point.role() == Some(role));
        let call = |side: CallSide| {
            members
                .iter()
                .find(|(_, point)| point.call().is_some_and(|(own, _)| own == side))
        };
        let hot = with(Role::Power)
            .or_else(|| with(Role::PowerIn))
            .or_else(|| call(CallSide::Output))
            .or_else(|| call(CallSide::Out));
        let Some((hot, hot_point)) = hot else {
            continue;
        };
        // The nearest common shows the wrong landing best.
        let Some((cold, cold_point)) = members
            .iter()
            .filter(|(_, point)| point.role() == Some(Role::Common))
            .min_by_key(|(n, _)| net.path(*hot, *n).map_or(usize::MAX, |path| path.len()))
        else {
            continue;
        };
        let mut units = [
            hot_point.unit().unwrap_or("").to_owned(),
            cold_point.unit().unwrap_or("").to_owned(),
        ];
        units.sort();
        // Two conductors that changed places are one mistake.
        if told.contains(&units) {
            continue;
        }
        told.push(units);
        let called = hot_point.call().map(|(_, call)| call);
        if let Some(call) = called {
            if let Some(finding) = call_on_common(net, *hot, *cold, call) {
                report.find(finding);
            }
            continue;
        }
        let (from, to) = if hot_point.kind() == "air-handler" {
            (*cold, *hot)
        } else {
            (*hot, *cold)
        };
        let Some(span) = last_words(net, from, to) else {
            continue;
        };
        report.find(
            Finding::new(
                &RULE.kind,
                span,
                format!("power at `{}` is joined to common at `{}`", hot_point.name, cold_point.name),
                "land this conductor on the terminal it belongs to: power to power, common to common",
            )
            .measured(
                Shown::word(from_to(net, from, to)),
                Relation::Not,
                Shown::word("joined"),
            ),
        );
    }
}
