//! What warms the air covers the heat loss at winter design.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Kind, Relation, Severity, Why};

use super::against::{Against, compare, own};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "SIZ005",
        name: "heat_too_small",
        title: "heat smaller than the heat loss",
        severity: Severity::Warning,
        source: "IRC M1401.3",
        why: Why {
            checks: "The heat that the unit gives the air at winter design against the heat losses of its rooms with what the ducts lose and outdoor air takes. A hot-water coil is scaled from its rated point with airflow, water flow and what its water is; a heat pump gives what its sheet says at that temperature outdoors.",
            on_site: "On the coldest days the house does not get warm.",
            fix: "Give the coil hotter water or more of it, choose a larger coil or heat pump, add heat beside the heat pump, or insulate the ducts better.",
        },
    },
    example: Example {
        wrong: r#"water-coil wc on ah { model "Example medium water coil", water 110 F, flow 1 gpm }"#,
        right: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 6 gpm }"#,
    },
    check,
};

fn has_coil(job: &Job<'_>, unit: &str) -> bool {
    job.model.water.coil_in(unit).is_some()
}

fn check(job: &Job<'_>, report: &mut Report) {
    // Where the job states nothing that warms the air, heat is not its matter.
    let warmed = job
        .model
        .equipment
        .values()
        .any(|equipment| equipment.kind == "water-coil")
        || job.model.air_handlers.values().any(|unit| {
            let id = format!("heat.{}.total", unit.name);
            job.ledger.real(&id).is_some()
        });
    if !warmed {
        return;
    }
    for unit in job.model.air_handlers.values().filter(|unit| !unit.flawed) {
        let what = Against {
            kind: &RULE.kind,
            gives: format!("heat.{}.total", unit.name),
            asked: format!("load.{}.heating", unit.name),
            share: format!("load.{}.heating-share", unit.name),
            relation: Relation::AtLeast,
            own: own(100.0, RULE.kind.source, Severity::Warning),
            message: &|name| format!("`{name}` gives less heat than its rooms lose"),
            help: if has_coil(job, &unit.name) {
                "give the coil hotter `water` or more `flow`, or choose a larger coil"
            } else {
                "choose a larger heat pump, or add heat beside it for the coldest days, as a hot-water coil"
            },
            says: true,
        };
        compare(job, (&unit.name, unit.span), what, report);
    }
}
