//! A room gets the air that its load needs, as far as its unit has it to give.

use crate::figures::figure_id;
use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

/// How far below its need a room may stay, %.
const SHORT: f64 = 10.0;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR031",
        name: "room_short_of_air",
        title: "room short of air",
        severity: Severity::Warning,
        source: "common practice: balanced within 10 %",
        why: Why {
            checks: "The airflow that the solved ducts deliver to a room in summer against the airflow that its load needs at the temperature with which its air arrives. Where the unit as a whole delivers less than its rooms need, each is held to its part of that.",
            on_site: "The room stays warmer than the others in summer and colder in winter, whatever the thermostat says.",
            fix: "Shorten its runs, take them off nearer the unit, add an outlet, take out an orifice that starves it, or put orifices into runs of rooms that get too much.",
        },
    },
    example: Example {
        wrong: r#"room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, cooling sensible 2900 Btu/h, latent 100 Btu/h, outlet n1 in ceiling at 3 ft, 4 ft }
run n1 from main at 5 ft, side south { tube "2 in sound tube", measured 24 ft, bends 4, orifice "1 1/4 in orifice" }"#,
        right: r#"room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, cooling sensible 600 Btu/h, latent 100 Btu/h, outlet n1 in ceiling at 3 ft, 4 ft }
run n1 from main at 5 ft, side south { tube "2 in sound tube", measured 14 ft, bends 2 }"#,
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for room in job.model.house.rooms.values() {
        let id = |what: &str| figure_id(["room.", &room.name, ".", what]);
        let real = |what: &str| job.ledger.real(&id(what));
        let (Some(got), Some(needed), Some(part)) = (
            real("airflow"),
            real("airflow-needed"),
            real("airflow-part"),
        ) else {
            let id = id("airflow-needed");
            if !job.rests_on_airflow(&id) {
                report.not_known(
                    &RULE.kind,
                    format!("room `{}`", room.name),
                    (job.ledger, &id),
                    room.span,
                );
            }
            continue;
        };
        let own = Limit::default_of(SHORT, RULE.kind.source, Severity::Warning);
        let name = ("short", Dimension::Ratio);
        let limit = job.limit(&RULE.kind, name, Relation::AtMost, own, report);
        let least = needed.min(part) * (1.0 - limit.value / 100.0);
        if got >= least {
            continue;
        }
        let (found, wanted) = show_pair(got, least, Dimension::AirFlow);
        let orifice = job.model.runs.values().find_map(|run| {
            let own = room
                .outlets
                .iter()
                .any(|outlet| run.outlet.as_ref() == Some(&outlet.name));
            run.orifice.as_ref().filter(|_| own)
        });
        let mut finding = Finding::new(
            &RULE.kind,
            room.span,
            format!("room `{}` gets less air than its load needs", room.name),
            match orifice {
                Some(_) => "take out or widen its orifice, shorten its runs, or add an outlet",
                None => "shorten its runs, add an outlet, or put an `orifice` into runs of rooms that get more than theirs",
            },
        )
        .measured(found, Relation::AtLeast, wanted);
        if let Some(load) = room.sensible {
            finding = finding.label(load.span, "its load");
        }
        if let Some(orifice) = orifice {
            finding = finding.label(orifice.span, "the orifice");
        }
        report.find(limit.mark(finding));
    }
}
