//! No room gets far more than its part of the air.

use crate::figures::figure_id;
use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

/// How far above its part a room may get, %.
const LONG: f64 = 20.0;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR032",
        name: "room_long_of_air",
        title: "room gets more than its part of the air",
        severity: Severity::Advice,
        source: "common practice: twice the tolerance of balancing",
        why: Why {
            checks: "The airflow that the solved ducts deliver to a room in summer against its part of all that the unit delivers, by what its load needs.",
            on_site: "The room is too cold in summer and the air is missing elsewhere; with the thermostat in it, all other rooms stay warm.",
            fix: "Put a balancing orifice into its runs, lengthen them, or take an outlet out.",
        },
    },
    example: Example {
        wrong: r#"room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, cooling sensible 200 Btu/h, latent 100 Btu/h, outlet n1 in ceiling at 3 ft, 4 ft }
run n1 from main at 5 ft, side south { tube "2 in sound tube", measured 14 ft, bends 2 }"#,
        right: r#"room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, cooling sensible 600 Btu/h, latent 100 Btu/h, outlet n1 in ceiling at 3 ft, 4 ft }
run n1 from main at 5 ft, side south { tube "2 in sound tube", measured 14 ft, bends 2 }"#,
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for room in job.model.house.rooms.values() {
        let real = |what: &str| {
            job.ledger
                .real(&figure_id(["room.", &room.name, ".", what]))
        };
        let (Some(got), Some(part)) = (real("airflow"), real("airflow-part")) else {
            continue;
        };
        let own = Limit::default_of(LONG, RULE.kind.source, Severity::Advice);
        let name = ("long", Dimension::Ratio);
        let limit = job.limit(&RULE.kind, name, Relation::AtMost, own, report);
        let most = part * (1.0 + limit.value / 100.0);
        if got <= most {
            continue;
        }
        let (found, wanted) = show_pair(got, most, Dimension::AirFlow);
        let mut finding = Finding::new(
            &RULE.kind,
            room.span,
            format!("room `{}` gets more than its part of the air", room.name),
            "put an `orifice` into its runs, or lengthen them",
        )
        .measured(found, Relation::AtMost, wanted);
        if let Some(load) = room.sensible {
            finding = finding.label(load.span, "its load");
        }
        report.find(limit.mark(finding));
    }
}
