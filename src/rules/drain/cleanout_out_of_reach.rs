//! A cleanout is where a hand reaches it.

use crate::model::Mark;
use crate::quantity::{Dimension, Length, length_text, show_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN028",
        name: "cleanout_out_of_reach",
        title: "cleanout out of reach",
        severity: Severity::Warning,
        source: "IRC M1411.3.3; the height is common practice",
        why: Why {
            checks: "At least one cleanout of each drain stands no higher than 6 ft 8 in above the floor of its story.",
            on_site: "The first time it clogs nobody brings a ladder: the pipe is cut where the hand reaches it.",
            fix: "Put the cleanout next to the trap, within reach of the floor.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

/// As high as an arm reaches from the floor (common practice).
const REACH: Length = Length::inches(80);

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let id = format!("drain.{}.cleanout-height", drain.name);
        let Some(height) = job.ledger.length(&id) else {
            continue;
        };
        let own = Limit::default_of(REACH, RULE.kind.source, RULE.kind.severity);
        let most = job.limit(
            &RULE.kind,
            ("height", Dimension::Length),
            Relation::AtMost,
            own,
            report,
        );
        let place = drain
            .happenings
            .iter()
            .find(|happening| matches!(happening.mark, Mark::Cleanout { .. }));
        let (Some(place), true) = (place, height > most.value) else {
            continue;
        };
        report.find(
            Finding::new(
                &RULE.kind,
                place.span,
                format!(
                    "no cleanout of drain `{}` is within reach of the floor",
                    drain.name
                ),
                format!(
                    "put `cleanout` where the pipe is no higher than {} above the floor",
                    length_text(most.value)
                ),
            )
            .measured(
                show_length(height),
                Relation::AtMost,
                show_length(most.value),
            )
            .severity(most.severity)
            .source(most.source),
        );
    }
}
