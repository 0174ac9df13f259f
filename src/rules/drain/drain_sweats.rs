//! A drain is insulated where it would sweat.

use crate::model::Stage;
use crate::quantity::{Dimension, Length, show_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN044",
        name: "drain_sweats",
        title: "bare drain outside the conditioned rooms",
        severity: Severity::Warning,
        source: "common practice; required by some cities",
        why: Why {
            checks: "From the rough-in on, a drain with more than 12 in of level pipe outside the conditioned rooms is insulated.",
            on_site: "The pipe is as cold as the coil: in a humid attic it drips along its whole length onto the ceiling.",
            fix: "Insulate it, closed at every joint.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, insulation \"1/2 in closed cell\", trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

/// As much bare pipe as the fittings at the unit take up (common practice).
const BARE: Length = Length::FOOT;

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let id = format!("drain.{}.unconditioned-length", drain.name);
        let Some(length) = job.ledger.length(&id) else {
            continue;
        };
        // A second drain is dry while all is well.
        if drain.insulation.is_some() || drain.is_second_line() || drain.flawed {
            continue;
        }
        let own = Limit::default_of(BARE, RULE.kind.source, RULE.kind.severity);
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
        if job.model.job.stage < Stage::RoughIn {
            report.not_checked(
                &RULE.kind,
                format!("drain {}", drain.name),
                "its insulation is not said yet",
                Some(drain.span),
            );
            continue;
        }
        let mut finding = Finding::new(
            &RULE.kind,
            drain.span,
            format!(
                "drain `{}` runs bare outside the conditioned rooms",
                drain.name
            ),
            "add `insulation \"1/2 in closed cell\"`",
        )
        .measured(
            show_length(length),
            Relation::AtMost,
            show_length(most.value),
        )
        .severity(most.severity)
        .source(most.source);
        if let Some(pipe) = &drain.pipe {
            let after = Span::new(pipe.span.file, pipe.span.end, pipe.span.end);
            finding = finding.edit(after, ", insulation \"1/2 in closed cell\"");
        }
        report.find(finding);
    }
}
