//! A run is no longer than the equipment can feed.

use crate::figures::figure_id;
use crate::quantity::{Dimension, Length, show_length_pair, trade_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR006",
        name: "run_too_long",
        title: "run longer than the equipment can feed",
        severity: Severity::Error,
        source: "the equipment's catalog",
        why: Why {
            checks: "That no run is longer than the catalog's range of run lengths ends.",
            on_site: "So much pressure is lost in the tube that the outlet blows too little for its room.",
            fix: "Take the run off nearer its outlet, or bring a branch of the trunk nearer.",
        },
    },
    example: Example {
        wrong: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 60 ft, bends 2 }",
        right: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 14 ft, bends 2 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for run in job.model.runs.values() {
        let Some(unit) = job.model.unit_of(&run.trunk.value) else {
            continue;
        };
        let stated = &unit.sheet.air.run_length;
        let (Some(range), Some(measured)) = (stated.get(), &run.measured) else {
            continue;
        };
        let own = Limit::of_catalog(range.most, stated.span);
        let name = ("length", Dimension::Length);
        let limit = job.limit(&RULE.kind, name, Relation::AtMost, own, report);
        let id = figure_id(["run.", &run.name, ".length"]);
        let Some(length) = job
            .ledger
            .length(&id)
            .filter(|length| *length > limit.value)
        else {
            continue;
        };
        let most = trade_length(limit.value.round_down_to(Length::sixteenths(1)));
        let (found, needed) = show_length_pair(length, limit.value);
        let straight = run.straight.filter(|straight| *straight <= limit.value);
        let help = match straight {
            Some(straight) => format!(
                "lay it straighter, `measured {most}` or less: the straight way is {}",
                trade_length(straight)
            ),
            None => format!(
                "take it off where the straight way to its outlet is {most} or less, or bring a branch nearer"
            ),
        };
        let finding = Finding::new(
            &RULE.kind,
            measured.span,
            format!("run `{}` is longer than `{}` can feed", run.name, unit.name),
            help,
        )
        .measured(found, Relation::AtMost, needed);
        report.find(limit.mark(finding));
    }
}
