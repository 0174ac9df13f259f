//! No terminal holds more conductors than its catalog allows.

use crate::catalog::{Count, Stated};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL031",
        name: "terminal_overfilled",
        title: "more conductors on a terminal than it takes",
        severity: Severity::Error,
        source: "the equipment's catalog; NEC 110.14(A)",
        why: Why {
            checks: "Where the catalog says how many conductors a control terminal takes, no more land on it.",
            on_site: "The second wire under a screw made for one works loose, and a call comes and goes.",
            fix: "Join the conductors in a splice and lead one of them to the terminal.",
        },
    },
    example: Example {
        wrong: "cable extra from stat to ah { type \"18/8\", wire red from stat.R to ah.R, wire blue from stat.R to ah.R }",
        right: "cable extra from stat to ah { type \"18/8\", wire red from stat.R to ah.R }",
    },
    check,
};

fn takes(job: &Job<'_>, unit: &str, terminal: &str) -> Option<(Span, u32)> {
    let stated = |terminal: &crate::catalog::Terminal| {
        let takes: &Stated<Count> = terminal.takes.as_ref()?;
        Some((takes.span, takes.get()?.0))
    };
    if let Some(handler) = job.model.air_handlers.get(unit) {
        return stated(handler.sheet.control.get(terminal)?);
    }
    stated(
        job.model
            .equipment
            .get(unit)?
            .terminals
            .as_ref()?
            .get(terminal)?,
    )
}

fn check(job: &Job<'_>, report: &mut Report) {
    let net = job.wiring.net;
    for (n, point) in net.points() {
        let Some((unit, (_, terminal))) = point.unit().zip(point.name.split_once('.')) else {
            continue;
        };
        let Some((span, most)) = takes(job, unit, terminal) else {
            continue;
        };
        let landed: Vec<Span> = net.joins_of(n).filter_map(|join| join.words).collect();
        let found = landed.len();
        if found <= most as usize {
            continue;
        }
        let Some(last) = landed.last() else { continue };
        let mut finding = Finding::new(
            &RULE.kind,
            *last,
            format!("{found} conductors land on `{}`", point.name),
            "join them in a splice and lead one conductor to the terminal",
        )
        .measured(
            Shown::count(found),
            Relation::AtMost,
            Shown::count(most as usize),
        )
        .label(span, "what it takes");
        for other in landed.iter().take(found - 1) {
            finding = finding.label(*other, "this one lands there too");
        }
        report.find(finding);
    }
}
