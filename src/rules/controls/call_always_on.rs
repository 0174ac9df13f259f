//! A call terminal is fed by a call, not by power.

use crate::catalog::Role;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::controls::Netlist;

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

fn check(job: &Job<'_>, report: &mut Report) {
    let net = Netlist::of(job.model, job.catalog);
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
        let Some(span) = last_words(&net, *hot, *n).or_else(|| last_words(&net, *n, *hot)) else {
            continue;
        };
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
                Shown::word(from_to(&net, *hot, *n)),
                Relation::Not,
                Shown::word("joined"),
            ),
        );
    }
}
