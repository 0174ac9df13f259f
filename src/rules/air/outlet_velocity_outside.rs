//! Air leaves an outlet fast enough to mix the room's and slowly enough to be quiet, by the catalog's own range.

use crate::figures::figure_id;
use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR041",
        name: "outlet_velocity_outside",
        title: "air too slow or too fast at an outlet",
        severity: Severity::Warning,
        source: "the outlet's catalog",
        why: Why {
            checks: "Solved airflow ÷ free area of an outlet lies in the range of velocity that the catalog states for it; where the catalog states none, the range of airflow is what is checked.",
            on_site: "Too slow, the air drops out of the outlet and the room is not mixed; too fast, it hisses.",
            fix: "Below: a shorter tube or no orifice. Above: an orifice, a longer tube, one more outlet in the room.",
        },
    },
    example: Example {
        wrong: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 4 ft, model \"2 in fast outlet\" }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 14 ft, bends 2 }",
        right: "room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, served by den, outlet n1 in ceiling at 3 ft, 4 ft }\nrun n1 from main at 5 ft, side south { tube \"2 in sound tube\", measured 14 ft, bends 2 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for run in job.model.runs.values() {
        let Some(outlet) = run
            .outlet
            .as_ref()
            .and_then(|name| job.model.house.outlet(name))
        else {
            continue;
        };
        let found = job
            .ledger
            .real(&figure_id(["outlet.", &outlet.name, ".velocity"]));
        let inside = run
            .tube
            .as_ref()
            .and_then(|tube| job.catalog.tubes.get(&tube.value)?.inside.get());
        let item = match &outlet.model {
            Some(named) => job.catalog.outlets.get(&named.value),
            None => job
                .catalog
                .outlets
                .values()
                .find(|item| item.tube.get() == inside),
        };
        let stated = item.and_then(|item| item.velocity.as_ref());
        let (Some(found), Some((stated, range))) =
            (found, stated.and_then(|s| Some((s, s.get()?))))
        else {
            continue;
        };
        // What lies outside the range of airflow, or is starved by its orifice, is told there.
        let flow = job.ledger.real(&figure_id(["run.", &run.name, ".airflow"]));
        let told = flow
            .zip(item.and_then(|item| item.airflow.get()))
            .is_some_and(|(flow, range)| {
                flow < 0.9 * range.least.value() || flow > 1.1 * range.most.value()
            });
        let starved = figure_id(["run.", &run.name, ".orifice-better"]);
        if told || job.ledger.get(&starved).is_some() {
            continue;
        }
        for (name, end, relation) in [
            ("least", range.least, Relation::AtLeast),
            ("most", range.most, Relation::AtMost),
        ] {
            let own = Limit {
                severity: RULE.kind.severity,
                ..Limit::of_catalog(end.value(), stated.span)
            };
            let name = (name, Dimension::Velocity);
            let limit = job.limit(&RULE.kind, name, relation, own, report);
            let slow = relation == Relation::AtLeast;
            if slow && found >= limit.value || !slow && found <= limit.value {
                continue;
            }
            let (shown, needed) = show_pair(found, limit.value, Dimension::Velocity);
            let finding = Finding::new(
                &RULE.kind,
                run.span,
                format!(
                    "air leaves outlet `{}` too {}",
                    outlet.name,
                    if slow {
                        "slowly to mix"
                    } else {
                        "fast to be quiet"
                    }
                ),
                if slow {
                    "shorten its tube, or take its orifice out"
                } else {
                    "give it an `orifice`, a longer tube, or its room one more outlet"
                },
            )
            .measured(shown, relation, needed);
            report.find(limit.mark(finding));
        }
    }
}
