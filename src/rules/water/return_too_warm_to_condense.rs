//! A condensing boiler gets its water back cool enough to condense.

use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD016",
        name: "return_too_warm_to_condense",
        title: "return too warm for a condensing boiler",
        severity: Severity::Advice,
        source: "common practice: flue gas of natural gas begins to condense near 130 °F",
        why: Why {
            checks: "The water that comes back to a condensing boiler at winter design against 130 °F.",
            on_site: "The boiler runs as a plain one on cold days, and the owner paid for the other.",
            fix: "Set the boiler cooler with a larger coil, or less flow, so that more heat is taken out of each gallon.",
        },
    },
    example: Example {
        wrong: r#"boiler cond { model "Test boiler", on first, center 20 ft, 10 ft, water 160 F, kind condensing }"#,
        right: r#"boiler cond { model "Test boiler", on first, center 20 ft, 10 ft, water 135 F, kind condensing }"#,
    },
    check,
};

/// Where flue gas begins to condense, °F.
const CONDENSES: f64 = 130.0;

fn check(job: &Job<'_>, report: &mut Report) {
    for boiler in job
        .model
        .water
        .boilers
        .values()
        .filter(|boiler| !boiler.flawed)
    {
        let kind = boiler
            .kind
            .as_ref()
            .filter(|kind| kind.value == "condensing");
        let back = job
            .ledger
            .real(&format!("boiler.{}.return-water", boiler.name));
        let (Some(kind), Some(back)) = (kind, back) else {
            continue;
        };
        let limit = job.limit(
            &RULE.kind,
            ("return", Dimension::Temperature),
            Relation::AtMost,
            Limit::default_of(CONDENSES, RULE.kind.source, Severity::Advice),
            report,
        );
        if back <= limit.value {
            continue;
        }
        let (found, needed) = show_pair(back, limit.value, Dimension::Temperature);
        let at = boiler.water.map_or(boiler.span, |water| water.span);
        report.find(
            limit.mark(
                Finding::new(
                    &RULE.kind,
                    at,
                    format!(
                        "water comes back to condensing boiler `{}` too warm to condense",
                        boiler.name
                    ),
                    "set `water` cooler and choose a larger coil, or accept it on the coldest days",
                )
                .measured(found, Relation::AtMost, needed)
                .label(kind.span, "its kind"),
            ),
        );
    }
}
