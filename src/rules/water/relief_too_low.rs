//! A relief valve does not open at the fill that the height takes.

use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD020",
        name: "relief_too_low",
        title: "relief valve too near the fill pressure",
        severity: Severity::Warning,
        source: "common practice",
        why: Why {
            checks: "The relief valve opens at least 10 psi above the cold fill: warming water and the circulator take the rest. The valve itself, the expansion tank and the low-water cut-off belong to the boiler and are only asked for.",
            on_site: "The valve drips at every firing, minerals build up in its seat, and one day it does not open.",
            fix: "Use a boiler and valve rated for more, or bring the loop's top down; ask the boiler's maker.",
        },
    },
    example: Example {
        wrong: r#"boiler high { model "Test boiler", on first, center 20 ft, 10 ft, water 160 F, fill 24 psi, relief 30 psi }"#,
        right: r#"boiler high { model "Test boiler", on first, center 20 ft, 10 ft, water 160 F, fill 20 psi, relief 30 psi }"#,
    },
    check,
};

/// What lies between, psi.
const BETWEEN: f64 = 10.0;

fn check(job: &Job<'_>, report: &mut Report) {
    for boiler in job
        .model
        .water
        .boilers
        .values()
        .filter(|boiler| !boiler.flawed)
    {
        let sheet = boiler
            .model
            .as_ref()
            .and_then(|named| job.catalog.boilers.get(&named.value))
            .and_then(|sheet| sheet.relief.as_ref());
        let stated = sheet.and_then(|stated| Some((stated.get()?.psi(), stated.span)));
        let opens = boiler
            .relief
            .map(|relief| (relief.value, relief.span))
            .or(stated);
        let Some(fill) = boiler.fill else { continue };
        let Some((opens, at)) = opens else {
            if !job.model.is_open(boiler.span, "relief") {
                report.not_checked(
                    &RULE.kind,
                    format!("boiler {}", boiler.name),
                    "neither the job nor the catalog says at what its relief valve opens",
                    Some(boiler.span),
                );
            }
            continue;
        };
        let limit = job.limit(
            &RULE.kind,
            ("between", Dimension::WaterPressure),
            Relation::AtLeast,
            Limit::default_of(BETWEEN, RULE.kind.source, Severity::Warning),
            report,
        );
        let needed = fill.value + limit.value;
        if opens >= needed {
            continue;
        }
        let (shown, least) = show_pair(opens, needed, Dimension::WaterPressure);
        let span = boiler.relief.map_or(fill.span, |relief| relief.span);
        report.find(
            limit.mark(
                Finding::new(
                    &RULE.kind,
                    span,
                    format!("the relief valve of boiler `{}` opens too near its fill", boiler.name),
                    "ask the boiler's maker for a valve and vessel rated for more, or bring the loop's top down",
                )
                .measured(shown, Relation::AtLeast, least)
                .label(if span == at { fill.span } else { at }, if span == at { "the fill" } else { "the valve" }),
            ),
        );
    }
}
