//! Each call has its own conductors.

use crate::catalog::{Call, CallSide, Role};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};
use crate::systems::controls::{Netlist, Point};

use super::{from_to, last_words, lost_calls};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL009",
        name: "calls_joined",
        title: "two calls joined together",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "Two different calls of a thermostat are not joined to each other.",
            on_site: "Heat and cooling start together, or the fan never stops.",
            fix: "Part the two conductors.",
        },
    },
    example: Example {
        wrong: "cable extra from stat to ah { type \"18/2\", wire red from stat.Y to ah.W }",
        right: "cable extra from stat to ah { type \"18/2\", spare red }",
    },
    check,
};

const fn stage(call: Call) -> Call {
    match call {
        Call::Cool2 => Call::Cool,
        Call::Heat2 => Call::Heat,
        other => other,
    }
}

/// The words that end the conductor whose two ends carry different calls.
fn bridge(net: &Netlist, one: usize, other: usize) -> Option<Span> {
    let path = net.path(one, other)?;
    path.windows(3).find_map(|ends| {
        let [from, conductor, to] = ends else {
            return None;
        };
        let call = |n: usize| net.at(n).and_then(Point::call).map(|(_, call)| stage(call));
        let parted = call(*from).zip(call(*to)).is_some_and(|(a, b)| a != b);
        parted.then(|| net.words_between(*conductor, *to)).flatten()
    })
}

fn check(job: &Job<'_>, report: &mut Report) {
    let net = job.wiring.net;
    let lost = lost_calls(job, net);
    for members in net.nets() {
        let mut outs = members.iter().filter_map(|(n, point)| match point.call() {
            Some((CallSide::Out, call)) => Some((*n, *point, call)),
            _ => None,
        });
        let Some((one, first, call)) = outs.next() else {
            continue;
        };
        let Some((other, second, _)) = outs.find(|(_, _, other)| stage(*other) != stage(call))
        else {
            continue;
        };
        // A call that goes astray, or one joined to power, is reported as that.
        let astray = lost.iter().any(|lost| lost.out == one || lost.out == other);
        let powered = members
            .iter()
            .any(|(_, point)| point.role() == Some(Role::Power));
        if astray || powered {
            continue;
        }
        let Some(span) = bridge(net, one, other).or_else(|| last_words(net, one, other)) else {
            continue;
        };
        report.find(
            Finding::new(
                &RULE.kind,
                span,
                format!(
                    "the calls `{}` and `{}` are joined together",
                    first.name, second.name
                ),
                "take out the wire or splice that joins them",
            )
            .measured(
                Shown::word(from_to(net, one, other)),
                Relation::Not,
                Shown::word("joined"),
            ),
        );
    }
}
