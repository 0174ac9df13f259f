//! Two take-offs on one side of a trunk stand as far apart as the catalog asks.

use crate::figures::figure_id;
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

/// Two take-offs too close together: the one nearer the trunk's start, the other, their distance.
struct Pair<'j> {
    first: &'j Run,
    second: &'j Run,
    gap: Length,
}

fn check(job: &Job<'_>, report: &mut Report) {
    for trunk in job.model.trunks.values() {
        let Some(unit) = job.model.unit_of(&trunk.name) else {
            continue;
        };
        let stated = &unit.sheet.air.take_off_spacing;
        let Some(value) = stated.get() else { continue };
        let own = Limit::of_catalog(value, stated.span);
        let name = ("distance", Dimension::Length);
        let limit = job.limit(&RULE.kind, name, Relation::AtLeast, own, report);
        let pairs: Vec<Pair<'_>> = job
            .model
            .runs
            .values()
            .filter(|run| run.trunk.value == trunk.name)
            .filter_map(|run| pair(job, run))
            .filter(|pair| pair.gap < limit.value)
            .collect();
        let mut blamed: Vec<&str> = Vec::new();
        for pair in &pairs {
            let (run, other) = blame(job, pair, &pairs);
            if !blamed.contains(&run.name.as_str()) {
                blamed.push(&run.name);
                report.find(limit.mark(close(job, trunk, (run, other), pair.gap, limit.value)));
            }
        }
    }
}

fn pair<'j>(job: &'j Job<'_>, second: &'j Run) -> Option<Pair<'j>> {
    let id = |quantity: &str| figure_id(["run.", &second.name, ".", quantity]);
    let gap = job.ledger.length(&id("take_off_to_next"))?;
    let first = job.model.runs.get(job.ledger.word(&id("next_take_off"))?)?;
    Some(Pair { first, second, gap })
}

/// The run of a pair to report, then the other: one that stands too close to both its neighbours is reported alone.
fn blame<'j>(job: &Job<'_>, pair: &Pair<'j>, pairs: &[Pair<'j>]) -> (&'j Run, &'j Run) {
    let count = |run: &Run| {
        pairs
            .iter()
            .filter(|pair| pair.first.name == run.name || pair.second.name == run.name)
            .count()
    };
    let order = |run: &Run| job.model.runs.get_index_of(&run.name);
    let later = order(pair.first) > order(pair.second);
    let (one, other) = (count(pair.first), count(pair.second));
    if one > other || one == other && later {
        (pair.first, pair.second)
    } else {
        (pair.second, pair.first)
    }
}

fn close(
    job: &Job<'_>,
    trunk: &Trunk,
    (run, other): (&Run, &Run),
    gap: Length,
    least: Length,
) -> Finding {
    let side = |run: &Run| {
        job.ledger
            .word(&figure_id(["run.", &run.name, ".leaves_toward"]))
    };
    let near = trunk.fittings.iter().map(|fitting| {
        let unit = job.model.unit_of(&trunk.name);
        let asked = unit.and_then(|unit| unit.sheet.air.take_off_distance.get());
        (fitting.station, asked.unwrap_or(Length::inches(18)))
    });
    let keep: Vec<(Length, Length)> = job
        .model
        .runs
        .values()
        .filter(|one| one.name != run.name && one.trunk.value == trunk.name)
        .filter(|one| side(one) == side(run))
        .filter_map(|one| Some((one.station?.value, least)))
        .chain(near)
        .collect();
    let at = run.station.map_or(run.span, |station| station.span);
    let wanted = run.station.map_or(Length::ZERO, |station| station.value);
    let better = nearest_clear(wanted, trunk.length(), &keep);
    let (found, needed) = show_length_pair(gap, least);
    let finding = Finding::new(
        &RULE.kind,
        at,
        format!(
            "runs `{}` and `{}` leave the same side of trunk `{}` too close together",
            other.name, run.name, trunk.name
        ),
        match better {
            Some(better) => format!(
                "take `{}` off at `{}`, or from another side",
                run.name,
                trade_length(better)
            ),
            None => format!("take `{}` off from another side", run.name),
        },
    )
    .measured(found, Relation::AtLeast, needed)
    .label(
        other.station.map_or(other.span, |station| station.span),
        format!("take-off of run `{}`", other.name),
    );
    match better {
        Some(better) => finding.edit(at, trade_length(better)),
        None => finding,
    }
}
