//! The coil takes out enough moisture at summer design.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Kind, Relation, Severity, Why};

use super::against::{Against, compare, own};
use super::cooling_too_small::falls_short;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "SIZ004",
        name: "moisture_left",
        title: "latent cooling smaller than the load",
        severity: Severity::Warning,
        source: "IRC M1401.3 with ACCA Manual S (2014); the figures from memory",
        why: Why {
            checks: "The latent capacity of the coil at the solved airflow and the air that really enters it, against the latent loads of its rooms. Where its total capacity is too small already, that is said instead.",
            on_site: "The rooms are cool and damp, and things mould.",
            fix: "Lower the airflow within the range of the equipment, choose a colder coil, or plan a dehumidifier.",
        },
    },
    example: Example {
        wrong: r#"room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, cooling sensible 900 Btu/h, latent 20000 Btu/h, heating 900 Btu/h, outlet n1 in ceiling at 3 ft, 4 ft }
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
            gives: format!("coil.{}.latent", unit.name),
            asked: format!("load.{}.latent", unit.name),
            share: format!("load.{}.latent-share", unit.name),
            relation: Relation::AtLeast,
            own: own(100.0, RULE.kind.source, Severity::Warning),
            message: &|name| format!("`{name}` takes out less moisture than the load asks"),
            help: "set a lower `tap` within the equipment's range, or plan a dehumidifier",
            says: false,
        };
        compare(job, (&unit.name, unit.span), what, report);
    }
}
