//! A drain can be cleared without cutting it.

use crate::model::Mark;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN008",
        name: "cleanout_missing",
        title: "drain without a cleanout",
        severity: Severity::Error,
        source: "IRC M1411.3.3; IMC 307.2.5",
        why: Why {
            checks: "Each drain has a cleanout, so that it can be cleared without being cut.",
            on_site: "Slime closes the trap in the second summer; the service tech saws the pipe open over somebody's ceiling.",
            fix: "Add a cleanout with a threaded plug next to the trap.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let has = drain
            .happenings
            .iter()
            .any(|happening| matches!(happening.mark, Mark::Cleanout { .. }));
        // A pan's drain stays dry; it is cleared from the pan.
        if has || drain.flawed || drain.pan.is_some() {
            continue;
        }
        let mut finding = Finding::new(
            &RULE.kind,
            drain.span,
            format!("drain `{}` has no cleanout", drain.name),
            "add `cleanout` before the trap",
        )
        .measured(Shown::count(0), Relation::AtLeast, Shown::count(1));
        if let Some((trap, ..)) = drain.traps().next() {
            let before = Span::new(trap.span.file, trap.span.start, trap.span.start);
            finding = finding.edit(before, "cleanout, ");
        }
        report.find(finding);
    }
}
