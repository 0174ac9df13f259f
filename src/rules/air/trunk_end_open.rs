//! A trunk ends in a cap.

use crate::model::{FittingKind, Trunk};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR009",
        name: "trunk_end_open",
        title: "trunk open at its end",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "That each trunk and branch ends in a `cap`, or in a tee from which two branches leave.",
            on_site: "All the air leaves by the open end. Nobody notices before start-up.",
            fix: "Write `cap` after the last leg.",
        },
    },
    example: Example {
        wrong: "trunk side from ah.supply { adapter \"11 in square to 9 in round\", pipe \"9 in round\", east 3 ft, removable, east 9 ft }",
        right: "trunk side from ah.supply { adapter \"11 in square to 9 in round\", pipe \"9 in round\", east 3 ft, removable, east 9 ft, cap }",
    },
    check,
};

fn is_open(trunk: &Trunk) -> bool {
    let at_end = |kind: fn(&FittingKind) -> bool| {
        trunk
            .fittings
            .iter()
            .filter(|fitting| fitting.station == trunk.length() && kind(&fitting.kind))
            .count()
    };
    at_end(|kind| *kind == FittingKind::End) > 0
        && at_end(|kind| matches!(kind, FittingKind::Tee(_))) < 2
}

fn check(job: &Job<'_>, report: &mut Report) {
    let open = job
        .model
        .trunks
        .values()
        .filter(|trunk| !trunk.flawed && is_open(trunk));
    for trunk in open {
        let last = trunk.legs.last().map_or(trunk.span, |leg| leg.span);
        let mut finding = Finding::new(
            &RULE.kind,
            last,
            format!("trunk `{}` is open at its end", trunk.name),
            "write `cap` after its last leg",
        )
        .measured(
            Shown::word("nothing"),
            Relation::OneOf,
            Shown::word("a cap, a tee with two branches"),
        )
        .label(trunk.span, format!("trunk `{}`", trunk.name));
        if let Some(leg) = trunk.legs.last() {
            let end = crate::source::Span::new(leg.span.file, leg.span.end, leg.span.end);
            finding = finding.edit(end, ", cap");
        }
        report.find(finding);
    }
}
