//! Two take-offs on one side of a trunk stand as far apart as the catalog asks.

use crate::model::{Run, Trunk, nearest_clear};
use crate::quantity::{Dimension, Length, show_length_pair, trade_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR003",
        name: "takeoffs_too_close",
        title: "take-offs too close together on one side of the trunk",
        severity: Severity::Error,
        source: "the equipment's catalog",
        why: Why {
            checks: "The distance along the trunk between take-offs on the same side, against the figure of the equipment's catalog.",
            on_site: "The first take-off robs the second of air, and the metal between the two holes tears.",
            fix: "Move one of them along the trunk, or to another side.",
        },
    },
    example: Example {
        wrong: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 4 ft 2 in, side south { tube \"2 in sound tube\", measured 14 ft, bends 2 }",
        right: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 14 ft, bends 2 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for run in job.model.runs.values() {
        let (Some(trunk), Some(unit)) = (
            job.model.trunks.get(&run.trunk.value),
            job.model.unit_of(&run.trunk.value),
        ) else {
            continue;
        };
        let stated = &unit.sheet.air.take_off_spacing;
        let Some(value) = stated.get() else { continue };
        let own = Limit::of_catalog(value, stated.span);
        let name = ("distance", Dimension::Length);
        let limit = job.limit(&RULE.kind, name, Relation::AtLeast, own, report);
        if let Some(finding) = close(job, run, trunk, &limit) {
            report.find(finding);
        }
    }
}

fn close(job: &Job<'_>, run: &Run, trunk: &Trunk, limit: &Limit<Length>) -> Option<Finding> {
    let gap = job
        .ledger
        .length(&format!("run.{}.take_off_to_next", run.name))?;
    if gap >= limit.value {
        return None;
    }
    let next = job
        .ledger
        .word(&format!("run.{}.next_take_off", run.name))?;
    let next = job.model.runs.get(next)?;
    let (station, at) = (run.station?, next.station?);
    let keep: Vec<(Length, Length)> = job
        .model
        .runs
        .values()
        .filter(|other| other.name != run.name && other.trunk.value == trunk.name)
        .filter_map(|other| Some((other.station?.value, limit.value)))
        .collect();
    let better = nearest_clear(station.value, trunk.length(), &keep);
    let (found, needed) = show_length_pair(gap, limit.value);
    let mut finding = Finding::new(
        &RULE.kind,
        station.span,
        format!(
            "runs `{}` and `{}` leave the same side of trunk `{}` too close together",
            next.name, run.name, trunk.name
        ),
        match better {
            Some(better) => format!(
                "take off at `{}`, or from another side",
                trade_length(better)
            ),
            None => "take off from another side".to_owned(),
        },
    )
    .measured(found, Relation::AtLeast, needed)
    .label(at.span, format!("take-off of run `{}`", next.name));
    if let Some(better) = better {
        finding = finding.edit(station.span, trade_length(better));
    }
    Some(limit.mark(finding))
}
