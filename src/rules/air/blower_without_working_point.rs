//! A blower and the ducts on it meet at one airflow, and air comes out of every outlet there.

use crate::figures::figure_id;
use crate::model::AirHandler;
use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR012",
        name: "blower_without_working_point",
        title: "blower and ducts that never meet",
        severity: Severity::Error,
        source: "balance of the blower's curve and the losses of the ducts, solved",
        why: Why {
            checks: "At the set tap there is one airflow at which the blower makes just the pressure that return, trunk, tubes and outlets use up, on the stretch of the curve that the catalog gives, and air leaves every outlet.",
            on_site: "The unit runs where its maker gives no figures: no air at the far outlets, a coil that ices, a motor that overheats.",
            fix: "Where the ducts ask for too much: a wider or shorter return and trunk, more runs, a higher tap. Where they ask for too little: fewer runs, orifices, a lower tap.",
        },
    },
    example: Example {
        wrong: "return ret to ah.return { grille \"24 x 24 in grille\", in hall, duct \"7 in round\", measured 400 ft, bends 12 }",
        right: "return ret to ah.return { grille \"24 x 24 in grille\", in hall, duct \"9 in round\", measured 8 ft, bends 1 }",
    },
    check,
};

/// What to change, by what is to blame.
fn help(job: &Job<'_>, unit: &AirHandler, at: Span) -> String {
    let returned = job
        .model
        .entries
        .iter()
        .any(|entry| entry.word.word == "return" && entry.span == at);
    if returned {
        return "give the return a wider duct or a shorter way: without its loss blower and ducts meet".to_owned();
    }
    let id = |what: &str| {
        job.ledger
            .real(&figure_id(["air-handler.", &unit.name, ".", what]))
    };
    match (id("air-fault-flow"), id("air-fault-end")) {
        (Some(flow), Some(end)) if flow < end => {
            "give the trunk more runs, or take a smaller unit".to_owned()
        }
        (Some(_), Some(_)) => "take a lower tap or fewer runs".to_owned(),
        _ => "change the part that is named".to_owned(),
    }
}

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values() {
        let id = |what: &str| figure_id(["air-handler.", &unit.name, ".", what]);
        let Some(fault) = job.ledger.get(&id("air-fault")) else {
            let fed = job
                .model
                .trunks
                .values()
                .any(|trunk| trunk.unit.as_ref() == Some(&unit.name));
            if fed {
                let thing = format!("airflow of `{}`", unit.name);
                report.not_known(&RULE.kind, thing, (job.ledger, &id("airflow")), unit.span);
            }
            continue;
        };
        let at = fault.places().next().map_or(unit.span, |(span, _)| span);
        let mut finding = Finding::new(
            &RULE.kind,
            at,
            format!(
                "blower and ducts of `{}` have no working point: {}",
                unit.name,
                fault.shown().text
            ),
            help(job, unit, at),
        );
        if unit.tap.as_ref().is_none_or(|tap| tap.span != at) {
            finding = finding.label(
                unit.tap.as_ref().map_or(unit.span, |tap| tap.span),
                "the set tap",
            );
        }
        let flow = |what: &str| job.ledger.real(&id(what));
        if let (Some(found), Some(end)) = (flow("air-fault-flow"), flow("air-fault-end")) {
            let relation = if found < end {
                Relation::AtLeast
            } else {
                Relation::AtMost
            };
            let (found, end) = show_pair(found, end, Dimension::AirFlow);
            finding = finding.measured(found, relation, end);
        }
        report.find(finding);
    }
}
