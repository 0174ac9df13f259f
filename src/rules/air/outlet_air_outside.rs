//! What an outlet delivers lies where it is made for: strong enough to mix the room's air, weak enough to be quiet.

use crate::catalog::Stated;
use crate::figures::figure_id;
use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

/// How far outside its range an outlet may run, %: no closer does balancing come (common practice).
const BEYOND: f64 = 10.0;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR015",
        name: "outlet_air_outside",
        title: "outlet outside the airflow it is made for",
        severity: Severity::Warning,
        source: "the outlet's catalog; balanced within 10 %, common practice",
        why: Why {
            checks: "The solved airflow of each outlet lies in the range for which the catalog names the outlet, or within 10 % of it; below that it is enough where the shorter throw still mixes to the farthest point of the room.",
            on_site: "Below it the air falls out of the outlet and the room is not mixed; above it the outlet hisses.",
            fix: "Below: a shorter tube, a take-off nearer the unit's far end, no orifice. Above: an orifice, a longer tube, one more outlet.",
        },
    },
    example: Example {
        wrong: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 14 ft, bends 2, orifice \"1 1/4 in orifice\" }",
        right: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 14 ft, bends 2 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let own = Limit::default_of(BEYOND, RULE.kind.source, RULE.kind.severity);
    let name = ("beyond", Dimension::Ratio);
    let limit = job.limit(&RULE.kind, name, Relation::AtMost, own, report);
    // The tolerance of the start-up page; a value that can't be read is told here.
    let reading = Limit::default_of(10.0, RULE.kind.source, RULE.kind.severity);
    job.limit(
        &RULE.kind,
        ("reading", Dimension::Ratio),
        Relation::AtMost,
        reading,
        report,
    );
    for run in job.model.runs.values() {
        let Some(flow) = job.ledger.real(&figure_id(["run.", &run.name, ".airflow"])) else {
            continue;
        };
        let Some(outlet) = run
            .outlet
            .as_ref()
            .and_then(|name| job.model.house.outlet(name))
        else {
            continue;
        };
        let inside = run
            .tube
            .as_ref()
            .and_then(|tube| job.catalog.tubes.get(&tube.value)?.inside.get());
        let mut fitting = job
            .catalog
            .outlets
            .values()
            .filter(|item| item.tube.get() == inside);
        let item = match &outlet.model {
            Some(named) => job.catalog.outlets.get(&named.value),
            None => fitting.next(),
        };
        let Some(stated) = item.map(|item| &item.airflow) else {
            continue;
        };
        let Some(range) = stated.get() else { continue };
        let slack = limit.value / 100.0;
        let (least, most) = (
            range.least.value() * (1.0 - slack),
            range.most.value() * (1.0 + slack),
        );
        let (end, relation, words) = if flow < least {
            (least, Relation::AtLeast, "less")
        } else if flow > most {
            (most, Relation::AtMost, "more")
        } else {
            continue;
        };
        // Little air is enough where it still mixes to the farthest point of the room.
        let near = job
            .ledger
            .length(&figure_id(["room.", &outlet.room, ".farthest_point"]));
        let reach = job
            .ledger
            .length(&figure_id(["outlet.", &outlet.name, ".reach"]));
        if flow < least && near.zip(reach).is_some_and(|(near, reach)| near <= reach) {
            continue;
        }
        let starved = run.orifice.as_ref().filter(|_| flow < least);
        if starved.is_some()
            && job
                .ledger
                .get(&figure_id(["run.", &run.name, ".orifice-better"]))
                .is_some()
        {
            // Its orifice is what starves it, and another rule says so.
            continue;
        }
        let (found, needed) = show_pair(flow, end, Dimension::AirFlow);
        let help = if flow < least {
            "shorten its tube or take it off where more pressure is left, or take an outlet out of its room"
        } else {
            "give it an `orifice`, a longer tube, or its room one more outlet"
        };
        let mut finding = Finding::new(
            &RULE.kind,
            run.span,
            format!(
                "outlet `{}` delivers {words} air than it is made for",
                outlet.name
            ),
            help,
        )
        .measured(found, relation, needed)
        .label(place(stated), "what the catalog says of the outlet");
        finding = finding
            .severity(limit.severity)
            .source(limit.source.clone());
        report.find(finding);
    }
}

const fn place<T>(stated: &Stated<T>) -> crate::source::Span {
    stated.span
}
