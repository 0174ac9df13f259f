//! A run takes no more bends than the equipment allows.

use crate::figures::figure_id;
use crate::quantity::Dimension;
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Scalar, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR007",
        name: "run_too_many_bends",
        title: "run with too many bends",
        severity: Severity::Error,
        source: "the equipment's catalog",
        why: Why {
            checks: "The number of right-angle bends of each run against the most that the catalog allows.",
            on_site: "Each bend costs pressure and makes noise: the outlet blows too little and is heard.",
            fix: "Take the run off on the side that faces its outlet, or lay it in wide curves.",
        },
    },
    example: Example {
        wrong: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 14 ft, bends 9 }",
        right: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 14 ft, bends 2 }",
    },
    check,
};

fn shown(bends: f64) -> Shown {
    Shown {
        value: Scalar::Number(bends),
        unit: None,
        text: format!("{bends} {}", if bends > 1.0 { "bends" } else { "bend" }),
    }
}

fn check(job: &Job<'_>, report: &mut Report) {
    for run in job.model.runs.values() {
        let Some(unit) = job.model.unit_of(&run.trunk.value) else {
            continue;
        };
        let stated = &unit.sheet.air.run_bends;
        let (Some(most), Some(bends)) = (stated.get(), &run.bends) else {
            continue;
        };
        let own = Limit::of_catalog(f64::from(most.0), stated.span);
        let name = ("bends", Dimension::Count);
        let limit = job.limit(&RULE.kind, name, Relation::AtMost, own, report);
        let id = figure_id(["run.", &run.name, ".bends"]);
        let Some(found) = job.ledger.real(&id).filter(|found| *found > limit.value) else {
            continue;
        };
        let finding = Finding::new(
            &RULE.kind,
            bends.span,
            format!("run `{}` takes too many bends", run.name),
            format!(
                "lay it with at most {}, or take it off on another side",
                shown(limit.value).text
            ),
        )
        .measured(shown(found), Relation::AtMost, shown(limit.value));
        report.find(limit.mark(finding));
    }
}
