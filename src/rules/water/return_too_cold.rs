//! A plain boiler gets its water back warm enough to stay dry.

use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD017",
        name: "return_too_cold",
        title: "return too cold for a plain boiler",
        severity: Severity::Warning,
        source: "common practice: flue gas of natural gas begins to condense near 130 °F",
        why: Why {
            checks: "The water that comes back to a boiler that is not made to condense, at winter design, against 130 °F.",
            on_site: "Its flue gas condenses in the boiler and the chimney; acid water eats both.",
            fix: "Set the boiler hotter, or give it a bypass or mixing valve that warms the return.",
        },
    },
    example: Example {
        wrong: r#"boiler old { model "Test boiler", on first, center 20 ft, 10 ft, water 130 F, kind conventional }"#,
        right: r#"boiler old { model "Test boiler", on first, center 20 ft, 10 ft, water 160 F, kind conventional }"#,
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
            .filter(|kind| kind.value == "conventional");
        let back = job
            .ledger
            .real(&format!("boiler.{}.return-water", boiler.name));
        let (Some(kind), Some(back)) = (kind, back) else {
            continue;
        };
        let limit = job.limit(
            &RULE.kind,
            ("return", Dimension::Temperature),
            Relation::AtLeast,
            Limit::default_of(CONDENSES, RULE.kind.source, Severity::Warning),
            report,
        );
        if back >= limit.value {
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
                        "water comes back to boiler `{}` so cold that its flue gas condenses",
                        boiler.name
                    ),
                    "set `water` hotter, or ask the boiler's maker for a bypass",
                )
                .measured(found, Relation::AtLeast, needed)
                .label(kind.span, "its kind"),
            ),
        );
    }
}
