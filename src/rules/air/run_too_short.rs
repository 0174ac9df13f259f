//! A run is long enough for the tube to quiet the air.

use crate::figures::figure_id;
use crate::quantity::{Dimension, Length, show_length_pair, trade_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR005",
        name: "run_too_short",
        title: "run too short for sound",
        severity: Severity::Error,
        source: "the equipment's catalog; 10 ft is common practice",
        why: Why {
            checks: "That each run is at least as long as the catalog's range of run lengths begins. \
                     Where it is silent, 10 ft is common practice and the finding is a warning.",
            on_site: "The blower is heard in the room. Nobody can quiet it once the ceiling is closed.",
            fix: "Lay the tube with a loop so that it is longer, or take it off farther up the trunk.",
        },
    },
    example: Example {
        wrong: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 1 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 9 ft, bends 2 }",
        right: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 1 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 10 ft, bends 2 }",
    },
    check,
};

const PRACTICE: Length = Length::feet(10);

fn check(job: &Job<'_>, report: &mut Report) {
    for run in job.model.runs.values() {
        let Some(unit) = job.model.unit_of(&run.trunk.value) else {
            continue;
        };
        let Some(measured) = &run.measured else {
            if !run.flawed {
                let thing = format!("run {}", run.name);
                report.not_checked(
                    &RULE.kind,
                    thing,
                    "its length is not known yet",
                    Some(run.span),
                );
            }
            continue;
        };
        // Shorter than the straight way: the tape is wrong, and is reported as that.
        if run
            .straight
            .is_some_and(|straight| measured.value < straight)
        {
            continue;
        }
        let own = Limit::default_of(PRACTICE, "common practice", Severity::Warning);
        let stated = &unit.sheet.air.run_length;
        let Some(limit) = Limit::stated_or(&stated.map(|range| range.least), own) else {
            continue;
        };
        let name = ("length", Dimension::Length);
        let limit = job.limit(&RULE.kind, name, Relation::AtLeast, limit, report);
        let id = figure_id(["run.", &run.name, ".length"]);
        let Some(length) = job
            .ledger
            .length(&id)
            .filter(|length| *length < limit.value)
        else {
            continue;
        };
        let (found, needed) = show_length_pair(length, limit.value);
        let better = trade_length(limit.value.round_up_to(Length::sixteenths(1)));
        let finding = Finding::new(
            &RULE.kind,
            measured.span,
            format!("run `{}` is too short to quiet the air", run.name),
            format!("lay the tube with a loop, and write `measured {better}` or more"),
        )
        .measured(found, Relation::AtLeast, needed)
        .edit(measured.span, better);
        report.find(limit.mark(finding));
    }
}
