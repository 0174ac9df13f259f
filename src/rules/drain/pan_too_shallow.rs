//! The pan is 1 1/2 in deep.

use crate::quantity::{Dimension, Length, length_text, show_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN036",
        name: "pan_too_shallow",
        title: "pan too shallow",
        severity: Severity::Error,
        source: "IRC M1411.3.1; IMC 307.2.3",
        why: Why {
            checks: "A pan under a unit is at least 1 1/2 in deep.",
            on_site: "It runs over before the switch in it has floated.",
            fix: "Use a pan of 1 1/2 in or deeper.",
        },
    },
    example: Example {
        wrong: "pan p2 under ah { size 54 in x 31 in, depth 1 in, item \"31 x 54 in pan\", switch \"Test pan float switch\" }",
        right: "pan p2 under ah { size 54 in x 31 in, depth 2 in, item \"31 x 54 in pan\", switch \"Test pan float switch\" }",
    },
    check,
};

/// Least depth of an auxiliary pan (IRC M1411.3.1).
const LEAST: Length = Length::sixteenths(24);

fn check(job: &Job<'_>, report: &mut Report) {
    for pan in job.model.pans.values() {
        let Some(depth) = pan.depth else { continue };
        let own = Limit::default_of(LEAST, RULE.kind.source, RULE.kind.severity);
        let least = job.limit(
            &RULE.kind,
            ("depth", Dimension::Length),
            Relation::AtLeast,
            own,
            report,
        );
        if depth.value >= least.value {
            continue;
        }
        report.find(
            Finding::new(
                &RULE.kind,
                depth.span,
                format!("pan `{}` is too shallow", pan.name),
                format!("write `depth {}`", length_text(least.value)),
            )
            .measured(
                show_length(depth.value),
                Relation::AtLeast,
                show_length(least.value),
            )
            .severity(least.severity)
            .source(least.source)
            .edit(depth.span, length_text(least.value)),
        );
    }
}
