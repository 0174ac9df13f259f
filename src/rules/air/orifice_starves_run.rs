//! A balancing orifice holds a run back only as far as its outlet still blows.

use crate::figures::figure_id;
use crate::model::Run;
use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

/// Share of its need with which a room is balanced (common practice: within 10 %).
const ENOUGH: f64 = 0.9;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR018",
        name: "orifice_starves_run",
        title: "orifice that starves its run",
        severity: Severity::Warning,
        source: "the tube's catalog",
        why: Why {
            checks: "A run with a balancing orifice still carries the least airflow for which the catalog names its tube, unless its room gets what its load needs.",
            on_site: "The outlet breathes instead of blowing, the room is not mixed, and the orifice sits in the take-off where nobody finds it.",
            fix: "Use an orifice of a wider bore, or none.",
        },
    },
    example: Example {
        wrong: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 24 ft, bends 4, orifice \"1 1/4 in orifice\" }",
        right: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 14 ft, bends 2 }",
    },
    check,
};

/// Whether the run's room gets at least nine tenths of the air that its load needs: then it is balanced, not starved.
fn room_has_enough(job: &Job<'_>, run: &Run) -> bool {
    let outlet = run
        .outlet
        .as_ref()
        .and_then(|name| job.model.house.outlet(name));
    outlet.is_some_and(|outlet| {
        let real = |what: &str| {
            job.ledger
                .real(&figure_id(["room.", &outlet.room, ".", what]))
        };
        let enough = |got: f64, needed: f64| got >= ENOUGH * needed;
        real("airflow")
            .zip(real("airflow-needed"))
            .is_some_and(|(got, needed)| enough(got, needed))
    })
}

fn check(job: &Job<'_>, report: &mut Report) {
    for run in job.model.runs.values() {
        let id = |what: &str| figure_id(["run.", &run.name, ".", what]);
        let (Some(orifice), Some(flow), Some(least)) = (
            &run.orifice,
            job.ledger.real(&id("airflow")),
            job.ledger.real(&id("airflow-least")),
        ) else {
            continue;
        };
        if flow >= least || room_has_enough(job, run) {
            continue;
        }
        let better = job.ledger.word(&id("orifice-better"));
        let (found, needed) = show_pair(flow, least, Dimension::AirFlow);
        let mut finding = Finding::new(
            &RULE.kind,
            orifice.span,
            format!("the orifice of run `{}` leaves it too little air", run.name),
            match better {
                Some("none") => "take the orifice out".to_owned(),
                Some(name) => format!("write `orifice \"{name}\"`"),
                None => "take the orifice out, and shorten the run".to_owned(),
            },
        )
        .measured(found, Relation::AtLeast, needed);
        if let Some(tube) = &run.tube {
            finding = finding.label(tube.span, "the tube is made for this much");
        }
        if let Some(name) = better.filter(|name| *name != "none") {
            finding = finding.edit(orifice.span, format!("\"{name}\""));
        }
        report.find(finding);
    }
}
