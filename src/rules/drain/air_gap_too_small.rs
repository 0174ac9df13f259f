//! An air gap is twice the opening of the drain, and an inch at least.

use super::endings;
use crate::model::Stage;
use crate::quantity::{Dimension, Length, length_text, show_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN017",
        name: "air_gap_too_small",
        title: "air gap too small",
        severity: Severity::Error,
        source: "IPC 802.3.1 (number from memory)",
        why: Why {
            checks: "An air gap is at least twice the inside diameter of the pipe above it, and never under 1 in.",
            on_site: "Waste water splashes or rises back into the drain, and slime grows up the pipe.",
            fix: "Cut the pipe higher above the receptor's rim.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 1 1/2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for (kind, name, ending, flawed) in endings(job) {
        let Some(ending) = ending else {
            continue;
        };
        // That nothing is said of the joint has a rule of its own.
        let Some(how) = &ending.how else { continue };
        if how.value != "air gap" {
            continue;
        }
        let id = format!("{kind}.{name}.air-gap-needed");
        let thing = format!("{kind} {name}");
        let Some(distance) = ending.distance else {
            let needed = job.ledger.length(&id);
            if let (Some(needed), false, true) =
                (needed, flawed, job.model.job.stage >= Stage::RoughIn)
            {
                let good = length_text(needed.round_up_to(Length::sixteenths(2)));
                let after = Span::new(how.span.file, how.span.end, how.span.end);
                report.find(
                    Finding::new(
                        &RULE.kind,
                        how.span,
                        format!("the air gap of {kind} `{name}` has no height"),
                        format!("write `air gap {good}`"),
                    )
                    .measured(
                        Shown::word("no height"),
                        Relation::AtLeast,
                        show_length(needed),
                    )
                    .edit(after, format!(" {good}")),
                );
            } else if !flawed {
                report.not_checked(
                    &RULE.kind,
                    thing,
                    "the height of the air gap is not said",
                    Some(how.span),
                );
            }
            continue;
        };
        let Some(own) = job.ledger.length(&id) else {
            report.not_known(&RULE.kind, thing, (job.ledger, &id), distance.span);
            continue;
        };
        let own = Limit::default_of(own, RULE.kind.source, RULE.kind.severity);
        let needed = job.limit(
            &RULE.kind,
            ("gap", Dimension::Length),
            Relation::AtLeast,
            own,
            report,
        );
        if distance.value >= needed.value {
            continue;
        }
        let good = length_text(needed.value.round_up_to(Length::sixteenths(2)));
        report.find(
            Finding::new(
                &RULE.kind,
                distance.span,
                format!("the air gap of {kind} `{name}` is less than twice its opening"),
                format!("write `air gap {good}`"),
            )
            .measured(
                show_length(distance.value),
                Relation::AtLeast,
                show_length(needed.value),
            )
            .severity(needed.severity)
            .source(needed.source)
            .edit(distance.span, good),
        );
    }
}
