//! A drain says where its water goes.

use crate::quantity::{Length, length_text};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN015",
        name: "end_not_stated",
        title: "drain without an end",
        severity: Severity::Error,
        source: "IRC M1411.3; IMC 307.2.1",
        why: Why {
            checks: "A drain, and the tube of a pump, ends at a named place that the local code approves: never on a street, an alley, a walkway or where it is a nuisance.",
            on_site: "The pipe ends where the crew had no more pipe, and the water ends in the wall.",
            fix: "Name the place and how the pipe ends there. What places are approved is local: ask.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

/// Pumps whose tube goes nowhere.
fn pumps(job: &Job<'_>, report: &mut Report) {
    for pump in job.model.pumps.values() {
        if pump.ending.is_some() || pump.flawed || job.model.is_open(pump.span, "discharge") {
            continue;
        }
        report.find(
            Finding::new(
                &RULE.kind,
                pump.span,
                format!("pump `{}` does not say where its tube ends", pump.name),
                "add `discharge to laundry-sink, air gap 2 in`, with the place it goes to",
            )
            .measured(
                Shown::word("no end"),
                Relation::Equal,
                Shown::word("a named place"),
            ),
        );
    }
}

fn check(job: &Job<'_>, report: &mut Report) {
    pumps(job, report);
    for drain in job.model.drains.values() {
        if drain.ending.is_some() {
            continue;
        }
        if let (true, Some(open)) = (drain.ending_open, job.model.open_in(drain.whole)) {
            let reason = format!("{} is `{}`", open.what, open.unknown.words());
            report.not_checked(
                &RULE.kind,
                format!("drain {}", drain.name),
                reason,
                Some(open.span),
            );
            continue;
        }
        if drain.flawed || drain.ending_open {
            continue;
        }
        let gap = job
            .ledger
            .length(&format!("drain.{}.air-gap-needed", drain.name))
            .map_or(Length::inches(2), |gap| {
                gap.round_up_to(Length::sixteenths(2))
            });
        report.find(
            Finding::new(
                &RULE.kind,
                drain.span,
                format!("drain `{}` does not say where it ends", drain.name),
                format!(
                    "add `discharge to laundry-sink, air gap {}`, with the place it goes to",
                    length_text(gap)
                ),
            )
            .measured(
                Shown::word("no end"),
                Relation::Equal,
                Shown::word("a named place"),
            ),
        );
    }
}
