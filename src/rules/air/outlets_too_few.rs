//! A room has enough outlets to carry the air of its load, by the trade's figure for one outlet.

use crate::figures::figure_id;
use crate::quantity::{Dimension, show_pair, show_real};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR011",
        name: "outlets_too_few",
        title: "too few outlets for the room's load",
        severity: Severity::Warning,
        source: "common practice: 30 to 40 cfm an outlet on 2 in tube",
        why: Why {
            checks: "The air that the room's load needs, shared by its outlets, against the most that one outlet is used for. \
                     The air is reckoned with the density at the job's altitude and a usual difference between supply air and room \
                     (25 °F cooling, 45 °F heating).",
            on_site: "The room does not reach its temperature on the hottest and the coldest days, or its outlets are loud.",
            fix: "Add outlets to the room, each with its run, until the share of each is small enough.",
        },
    },
    example: Example {
        wrong: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, cooling sensible 1300 Btu/h, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 14 ft, bends 2 }",
        right: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, cooling sensible 900 Btu/h, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 14 ft, bends 2 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    // What the estimate is made with; a value that can't be read is told here.
    for (name, usual) in [("cooling-difference", 25.0), ("heating-difference", 45.0)] {
        let own = Limit::default_of(usual, "common practice", Severity::Warning);
        let name = (name, Dimension::TemperatureDifference);
        job.limit(&RULE.kind, name, Relation::AtMost, own, report);
    }
    for room in job.model.house.rooms.values() {
        let real = |quantity: &str| {
            job.ledger
                .real(&figure_id(["room.", &room.name, ".", quantity]))
        };
        let (Some(each), Some(most)) = (real("outlet_airflow"), real("outlet_airflow_most")) else {
            continue;
        };
        let own = Limit::default_of(most, "common practice", Severity::Warning);
        let name = ("airflow", Dimension::AirFlow);
        let limit = job.limit(&RULE.kind, name, Relation::AtMost, own, report);
        if each <= limit.value * (1.0 + 1e-9) {
            continue;
        }
        let has = room.outlets.len();
        let add = (1..1000)
            .find(|more| each * has as f64 / (has + more) as f64 <= limit.value)
            .unwrap_or(1);
        let (found, needed) = show_pair(each, limit.value, Dimension::AirFlow);
        let words = if add == 1 {
            "1 outlet with its run".to_owned()
        } else {
            format!("{add} outlets with their runs")
        };
        let winter = real("airflow-estimate@winter") > real("airflow-estimate@summer");
        let load = if winter {
            &room.heating
        } else {
            &room.sensible
        };
        let load = load.as_ref().map_or(room.span, |load| load.span);
        let then = show_real(each * has as f64 / (has + add) as f64, Dimension::AirFlow);
        let finding = Finding::new(
            &RULE.kind,
            room.span,
            format!(
                "room `{}` has too few outlets for its load: {has}, each to carry {}",
                room.name, found.text
            ),
            format!(
                "add {words} to room `{}`: then each carries {}",
                room.name, then.text
            ),
        )
        .measured(found, Relation::AtMost, needed)
        .label(load, "its load");
        report.find(limit.mark(finding));
    }
}
