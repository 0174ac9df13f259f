//! A run leaves its trunk well away from the unit, tees, elbows and the end, where the air still flows straight.

use crate::figures::figure_id;
use crate::model::{Fitting, Run, Trunk, nearest_clear};
use crate::quantity::{Dimension, Length, show_length_pair, trade_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR002",
        name: "takeoff_near_fitting",
        title: "take-off too near the unit, a tee, an elbow or the end of the trunk",
        severity: Severity::Error,
        source: "the equipment's catalog; 18 in is common practice",
        why: Why {
            checks: "The distance along the trunk from each take-off to the unit's face, the tee a branch starts at, and every tee, elbow and end. \
                     The catalog says how much the unit asks for; where it is silent, 18 in is common practice and the finding is a warning.",
            on_site: "Air that has just turned does not enter the tube evenly: that outlet blows too little or whistles.",
            fix: "Move the take-off along the trunk to the distance that the report gives, or move the fitting.",
        },
    },
    example: Example {
        wrong: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 12 in, side south { tube \"2 in sound tube\", measured 14 ft, bends 2 }",
        right: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 14 ft, bends 2 }",
    },
    check,
};

const PRACTICE: Length = Length::inches(18);

fn check(job: &Job<'_>, report: &mut Report) {
    for run in job.model.runs.values() {
        let (Some(trunk), Some(unit)) = (
            job.model.trunks.get(&run.trunk.value),
            job.model.unit_of(&run.trunk.value),
        ) else {
            continue;
        };
        let own = Limit::default_of(PRACTICE, "common practice", Severity::Warning);
        let Some(limit) = Limit::stated_or(&unit.sheet.air.take_off_distance, own) else {
            continue;
        };
        let name = ("distance", Dimension::Length);
        let limit = job.limit(&RULE.kind, name, Relation::AtLeast, limit, report);
        if let Some(finding) = near(job, run, trunk, &limit) {
            report.find(finding);
        }
    }
}

/// The nearest fitting, and how near.
fn nearest<'t>(job: &Job<'_>, run: &Run, trunk: &'t Trunk) -> Option<(&'t Fitting, Length)> {
    let word = ["unit", "start", "tee", "elbow", "cap", "end"];
    let distance = word
        .iter()
        .filter_map(|word| {
            job.ledger
                .length(&figure_id(["run.", &run.name, ".take_off_to_", word]))
        })
        .min()?;
    let station = run.station?.value;
    trunk
        .fittings
        .iter()
        .find(|fitting| (fitting.station - station).abs() == distance)
        .map(|fitting| (fitting, distance))
}

fn near(job: &Job<'_>, run: &Run, trunk: &Trunk, limit: &Limit<Length>) -> Option<Finding> {
    let station = run.station?;
    let (fitting, distance) = nearest(job, run, trunk)?;
    if distance >= limit.value {
        return None;
    }
    let keep: Vec<(Length, Length)> = trunk
        .fittings
        .iter()
        .map(|fitting| (fitting.station, limit.value))
        .chain(neighbours(job, run))
        .collect();
    let better = nearest_clear(station.value, trunk.length(), &keep);
    let help = match better {
        Some(better) => format!("take off at `{}`", trade_length(better)),
        None => format!(
            "no place on trunk `{}` is {} from all its fittings: lengthen it, or take off from another",
            trunk.name,
            trade_length(limit.value)
        ),
    };
    let words = fitting.kind.words();
    let (found, needed) = show_length_pair(distance, limit.value);
    let mut finding = Finding::new(
        &RULE.kind,
        station.span,
        format!(
            "run `{}` leaves trunk `{}` too near {words}",
            run.name, trunk.name
        ),
        help,
    )
    .measured(found, Relation::AtLeast, needed)
    .label(
        fitting.span,
        format!("{words}, at {} of the trunk", trade_length(fitting.station)),
    );
    if let Some(better) = better {
        finding = finding.edit(station.span, trade_length(better));
    }
    Some(limit.mark(finding))
}

/// The other take-offs on the same side, and the distance that the catalog asks between them.
fn neighbours(job: &Job<'_>, run: &Run) -> Vec<(Length, Length)> {
    let side = |run: &Run| {
        job.ledger
            .word(&figure_id(["run.", &run.name, ".leaves_toward"]))
    };
    let spacing = job
        .model
        .unit_of(&run.trunk.value)
        .and_then(|unit| unit.sheet.air.take_off_spacing.get());
    job.model
        .runs
        .values()
        .filter(|one| one.name != run.name && one.trunk.value == run.trunk.value)
        .filter(|one| side(one) == side(run))
        .filter_map(|one| Some((one.station?.value, spacing?)))
        .collect()
}
