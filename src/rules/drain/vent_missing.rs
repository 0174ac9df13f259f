//! A long drain has a vent behind its trap.

use crate::model::Mark;
use crate::quantity::{Dimension, Length, show_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN024",
        name: "vent_missing",
        title: "long drain without a vent",
        severity: Severity::Warning,
        source: "common practice",
        why: Why {
            checks: "A drain that runs more than 15 ft behind its trap has an open vent behind the trap.",
            on_site: "Water that fills the long pipe draws the trap dry behind it, or locks air in front of it: the drain gulps and the pan fills.",
            fix: "Set an open tee behind the trap, and let it end above the level at which the float switch trips.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 16 ft, fall 4 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, vent 8 in, south 16 ft, fall 4 in, discharge to tub, air gap 2 in }",
    },
    check,
};

/// The longest drain that is left without a vent (common practice).
const LONGEST: Length = Length::feet(15);

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let id = format!("drain.{}.length-behind-trap", drain.name);
        let (Some(length), Some((trap, ..))) = (job.ledger.length(&id), drain.traps().next())
        else {
            continue;
        };
        let vented = drain
            .happenings
            .iter()
            .any(|happening| matches!(happening.mark, Mark::Vent(_)));
        if vented || drain.flawed {
            continue;
        }
        let own = Limit::default_of(LONGEST, RULE.kind.source, RULE.kind.severity);
        let most = job.limit(
            &RULE.kind,
            ("length", Dimension::Length),
            Relation::AtMost,
            own,
            report,
        );
        if length <= most.value {
            continue;
        }
        let after = Span::new(trap.span.file, trap.span.end, trap.span.end);
        report.find(
            Finding::new(
                &RULE.kind,
                drain.span,
                format!(
                    "drain `{}` runs far behind its trap without a vent",
                    drain.name
                ),
                "add `vent 8 in` behind the trap",
            )
            .measured(
                show_length(length),
                Relation::AtMost,
                show_length(most.value),
            )
            .severity(most.severity)
            .source(most.source)
            .label(trap.span, "the trap")
            .edit(after, ", vent 8 in"),
        );
    }
}
