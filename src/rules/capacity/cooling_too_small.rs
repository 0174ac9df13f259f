//! The coil takes out enough heat at summer design.

use crate::quantity::Dimension;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Kind, Relation, Severity, Why};

use super::against::{Against, compare, own};

/// Least share of the load, %.
const LEAST: f64 = 90.0;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "SIZ001",
        name: "cooling_too_small",
        title: "cooling smaller than the load",
        severity: Severity::Warning,
        source: "IRC M1401.3 with ACCA Manual S (2014); the figures from memory",
        why: Why {
            checks: "The total capacity of the coil at the solved airflow, the outdoor design temperature, the altitude and the air that really enters it, against the loads of its rooms with what the ducts gain and outdoor air brings.",
            on_site: "On the hottest days the unit runs all the time and the rooms get warmer and warmer.",
            fix: "Insulate or shorten ducts in the attic, look at the loads again, raise the airflow, or choose the next larger unit.",
        },
    },
    example: Example {
        wrong: r#"room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, cooling sensible 30000 Btu/h, latent 100 Btu/h, heating 900 Btu/h, outlet n1 in ceiling at 3 ft, 4 ft }
run n1 from main at 5 ft, side south { tube "2 in sound tube", measured 14 ft, bends 2 }"#,
        right: r#"room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, cooling sensible 900 Btu/h, latent 100 Btu/h, heating 900 Btu/h, outlet n1 in ceiling at 3 ft, 4 ft }
run n1 from main at 5 ft, side south { tube "2 in sound tube", measured 14 ft, bends 2 }"#,
    },
    check,
};

/// Whether a unit's total capacity is too small by this rule: then how it splits is no fault of its own.
pub(super) fn falls_short(job: &Job<'_>, unit: &str) -> bool {
    let share = job.ledger.real(&format!("load.{unit}.total-share"));
    let own = own(LEAST, RULE.kind.source, Severity::Warning);
    let name = ("share", Dimension::Ratio);
    // What the shop sets is noted where this rule itself is run.
    let mut unheard = Report::default();
    let limit = job.limit(&RULE.kind, name, Relation::AtLeast, own, &mut unheard);
    share.is_some_and(|share| share < limit.value)
}

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values().filter(|unit| !unit.flawed) {
        let what = Against {
            kind: &RULE.kind,
            gives: format!("coil.{}.total", unit.name),
            asked: format!("load.{}.total", unit.name),
            share: format!("load.{}.total-share", unit.name),
            relation: Relation::AtLeast,
            own: own(LEAST, RULE.kind.source, Severity::Warning),
            message: &|name| format!("`{name}` takes out less heat than the load"),
            help: "choose a larger model, a higher `tap`, or ducts that gain less; then look at the loads again",
            says: true,
        };
        compare(job, (&unit.name, unit.span), what, report);
    }
}
