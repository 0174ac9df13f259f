//! Water is no hotter than the boiler makes and the coil may see.

use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD023",
        name: "water_too_hot",
        title: "water hotter than the catalog allows",
        severity: Severity::Error,
        source: "the equipment's catalog",
        why: Why {
            checks: "The boiler's `water` against the hottest that the catalog lets it make, and the water that reaches a coil against the hottest that it may see.",
            on_site: "The boiler's limit opens on every call, or the coil's joints are run beyond what its maker stands for.",
            fix: "Set the boiler cooler.",
        },
    },
    example: Example {
        wrong: r#"boiler hotter { model "Test boiler", on first, center 20 ft, 10 ft, water 195 F }"#,
        right: r#"boiler hotter { model "Test boiler", on first, center 20 ft, 10 ft, water 190 F }"#,
    },
    check,
};

fn told(what: String, (found, at): (f64, Span), (most, stated): (f64, Span), report: &mut Report) {
    let (shown, needed) = show_pair(found, most, Dimension::Temperature);
    report.find(
        Finding::new(
            &RULE.kind,
            at,
            format!("{what}: the water is hotter than the catalog allows"),
            format!(
                "write `water {} F` or less",
                crate::quantity::number_text(most, 0)
            ),
        )
        .measured(shown, Relation::AtMost, needed)
        .label(stated, "the hottest"),
    );
}

fn check(job: &Job<'_>, report: &mut Report) {
    let water = &job.model.water;
    let mut over: Vec<&str> = Vec::new();
    for boiler in water.boilers.values().filter(|boiler| !boiler.flawed) {
        let sheet = boiler
            .model
            .as_ref()
            .and_then(|named| job.catalog.boilers.get(&named.value));
        let most = sheet.and_then(|sheet| Some((sheet.hottest.get()?.value(), sheet.hottest.span)));
        if let (Some(most), Some(set)) = (most, boiler.water)
            && set.value > most.0
        {
            over.push(&boiler.name);
            told(
                format!("boiler `{}`", boiler.name),
                (set.value, set.span),
                most,
                report,
            );
        }
    }
    for coil in water.coils.values().filter(|coil| !coil.flawed) {
        let found = water.loop_of(&coil.name);
        // What the boiler cannot make is told once, there.
        if found.is_some_and(|found| over.contains(&found.boiler.as_str())) {
            continue;
        }
        let sheet = coil
            .model
            .as_ref()
            .and_then(|named| job.catalog.water_coils.get(&named.value));
        let most = sheet.and_then(|sheet| Some((sheet.hottest.get()?.value(), sheet.hottest.span)));
        let set = found
            .and_then(|found| water.boiler_water(&found.boiler))
            .or(coil.water);
        if let (Some(most), Some(set)) = (most, set)
            && set.value > most.0
        {
            told(
                format!("coil `{}`", coil.name),
                (set.value, set.span),
                most,
                report,
            );
        }
    }
}
