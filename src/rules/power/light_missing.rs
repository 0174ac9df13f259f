//! At equipment in an attic or crawl space there is a light, switched where one enters.

use crate::model::{AirHandler, Light};
use crate::rules::described::Trade;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Scalar, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR026",
        name: "light_missing",
        title: "no light at the equipment, or no switch at the way in",
        severity: Severity::Error,
        source: "NEC 210.70(C); IRC M1305.1.2",
        why: Why {
            checks: "On the story of an air handler that is reached by an attic-access a light stands, and it is switched at one of the accesses. It is asked for from the stage of the order on, once the trades are described.",
            on_site: "Somebody walks the joists by the light of a telephone and steps through the ceiling.",
            fix: "Add a light on that story with its switch at the access.",
        },
    },
    example: Example {
        wrong: "light l1-far on attic { at 7 ft, 9 ft, switched at first }",
        right: "light l1-far on attic { at 7 ft, 9 ft, switched at hatch }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values() {
        let accesses: Vec<&str> = job
            .model
            .house
            .hatches
            .values()
            .filter(|hatch| hatch.story == unit.story)
            .map(|hatch| hatch.name.as_str())
            .collect();
        if accesses.is_empty() {
            continue;
        }
        let lights: Vec<&Light> = job
            .model
            .lights
            .values()
            .filter(|light| light.story == unit.story)
            .collect();
        // A switch at a place that nothing carries is reported as that.
        let known = |name: &str| {
            job.model
                .parts
                .iter()
                .any(|part| part.name.as_deref() == Some(name))
                || job.model.house.stories.contains_key(name)
        };
        let astray = |light: &&Light| {
            light
                .switched
                .as_ref()
                .is_some_and(|place| !known(&place.value))
        };
        // One that was misread may stand on this story.
        if job.model.lights.values().any(|light| light.flawed) || lights.iter().any(astray) {
            continue;
        }
        if lights.is_empty() {
            missing(job, unit, &accesses, report);
            continue;
        }
        let at_access = lights.iter().any(|light| {
            light
                .switched
                .as_ref()
                .is_some_and(|place| accesses.contains(&place.value.as_str()))
        });
        let said = || {
            job.model
                .air_handlers
                .values()
                .find(|other| other.story == unit.story)
        };
        // Several units of one story share its light: told once.
        if at_access || said().is_some_and(|first| first.name != unit.name) {
            continue;
        }
        for light in lights {
            away(light, &accesses, report);
        }
    }
}

/// A light that is switched somewhere else, or nowhere that is said.
fn away(light: &Light, accesses: &[&str], report: &mut Report) {
    let (at, found) = light.switched.as_ref().map_or_else(
        || (light.span, "no switch".to_owned()),
        |place| (place.span, place.value.clone()),
    );
    let first = accesses.first().copied().unwrap_or_default();
    let mut finding = Finding::new(
        &RULE.kind,
        at,
        format!("light `{}` is not switched where one enters", light.name),
        format!("write `switched at {first}`"),
    )
    .measured(
        Shown::word(found),
        Relation::OneOf,
        Shown {
            value: Scalar::Words(accesses.iter().map(|name| (*name).to_owned()).collect()),
            unit: None,
            text: accesses.join(", "),
        },
    )
    .label(light.span, "the light");
    if let Some(place) = &light.switched {
        finding = finding.edit(place.span, first);
    }
    report.find(finding);
}

fn missing(job: &Job<'_>, unit: &AirHandler, accesses: &[&str], report: &mut Report) {
    if !job.misses(Trade::Power) || job.model.circuits.is_empty() {
        report.not_checked(
            &RULE.kind,
            unit.name.as_str(),
            "no light is described yet",
            Some(unit.span),
        );
        return;
    }
    let access = accesses.first().copied().unwrap_or_default();
    report.find(
        Finding::new(
            &RULE.kind,
            unit.span,
            format!("no light stands on the story of `{}`", unit.name),
            format!(
                "add `light {}-light on {} {{ switched at {access} }}`",
                unit.name, unit.story
            ),
        )
        .measured(Shown::count(0), Relation::AtLeast, Shown::count(1)),
    );
}
