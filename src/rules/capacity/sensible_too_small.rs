//! The coil cools the air enough at summer design: its sensible share suits the load.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Kind, Relation, Severity, Why};

use super::against::{Against, compare, own};
use super::cooling_too_small::falls_short;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "SIZ003",
        name: "sensible_too_small",
        title: "sensible cooling smaller than the load",
        severity: Severity::Warning,
        source: "IRC M1401.3 with ACCA Manual S (2014); the figures from memory",
        why: Why {
            checks: "The sensible capacity of the coil at the solved airflow and the air that really enters it, against the sensible loads of its rooms with what the ducts gain and outdoor air brings: at least 90 %. Where its total capacity is too small already, that is said instead.",
            on_site: "The unit takes out moisture and the rooms stay warm: it is sized for another mix of heat and moisture.",
            fix: "Raise the airflow, cut what the ducts gain, or choose a coil with a larger sensible share.",
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

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values().filter(|unit| !unit.flawed) {
        if falls_short(job, &unit.name) {
            continue;
        }
        let what = Against {
            kind: &RULE.kind,
            gives: format!("coil.{}.sensible", unit.name),
            asked: format!("load.{}.sensible", unit.name),
            share: format!("load.{}.sensible-share", unit.name),
            relation: Relation::AtLeast,
            own: own(90.0, RULE.kind.source, Severity::Warning),
            message: &|name| format!("`{name}` cools the air less than the sensible load asks"),
            help: "raise the airflow with a higher `tap`, insulate the ducts better, or choose a model with more sensible capacity",
            says: false,
        };
        compare(job, (&unit.name, unit.span), what, report);
    }
}
