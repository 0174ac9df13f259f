//! With the dampers of all other zones shut, a zone by itself neither strains the ducts nor freezes the coil.

use crate::figures::figure_id;
use crate::language::Entry;
use crate::model::AirHandler;
use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

use super::coil_near_ice::margin_limit;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR043",
        name: "zone_alone_strained",
        title: "a zone that can't run alone",
        severity: Severity::Warning,
        source: "the equipment's catalog",
        why: Why {
            checks: "With the dampers of all other zones shut, at the set tap and summer design: that blower and ducts meet at all, that the plenum pressure stays under the end of the catalog's range (an error), and that the coil's surface stays as far from the freeze cut-out as it has to with all zones open.",
            on_site: "When only one zone calls, its outlets roar, the dampers whistle, and the coil ices for want of air.",
            fix: "Put more rooms into the zone, leave rooms outside every damper, set the dampers farther out, or let one zone alone call the low stage only.",
        },
    },
    example: Example {
        wrong: "zone small { room hall }\ndamper ds in main at 9 ft { zone small }",
        right: "zone large { room den, room hall, room bed }",
    },
    check,
};

fn text(entry: &Entry, slot: &str) -> Option<String> {
    entry.text(slot).known().map(|text| text.value)
}

fn check(job: &Job<'_>, report: &mut Report) {
    let entries = |word: &'static str| job.model.blocks(word);
    let served: Vec<String> = entries("damper")
        .filter_map(|damper| text(damper.child("zone")?, "zone"))
        .collect();
    for damper in entries("damper").filter(|damper| damper.child("zone").is_none()) {
        let name = text(damper, "name").unwrap_or_default();
        report.not_checked(
            &RULE.kind,
            format!("damper `{name}`"),
            "the zone that it serves is not said",
            Some(damper.span),
        );
    }
    for zone in entries("zone") {
        let Some(name) = text(zone, "name") else {
            continue;
        };
        if served.is_empty() {
            report.not_checked(
                &RULE.kind,
                format!("zone `{name}`"),
                "no damper is drawn that shuts off another zone",
                Some(zone.span),
            );
            continue;
        }
        for unit in job.model.air_handlers.values().filter(|unit| !unit.flawed) {
            if let Some(finding) = alone(job, unit, (zone, &name), report) {
                report.find(finding);
            }
        }
    }
}

/// The plenum's pressure while the zone calls the first stage alone, where that is no more than `most`, in. w.c.
fn at_first_stage(job: &Job<'_>, unit: &AirHandler, name: &str, most: f64) -> Option<String> {
    let id = figure_id([
        "air-handler.",
        &unit.name,
        ".plenum-pressure@zone-",
        name,
        ".first-stage",
    ]);
    let figure = job.ledger.get(&id)?;
    (figure.real()? <= most).then(|| figure.shown().text)
}

fn alone(
    job: &Job<'_>,
    unit: &AirHandler,
    (zone, name): (&Entry, &str),
    report: &mut Report,
) -> Option<Finding> {
    let id = |what: &str| figure_id(["air-handler.", &unit.name, ".", what, "@zone-", name]);
    let real = |what: &str| job.ledger.real(&id(what));
    let help = "put more rooms into it, leave some rooms outside every damper, or set the dampers farther out";
    if job.ledger.get(&id("air-fault")).is_some() {
        let why = job.ledger.reason(&id("airflow")).unwrap_or_default();
        return Some(
            Finding::new(
                &RULE.kind,
                zone.span,
                format!("zone `{name}` can't run alone: {why}"),
                help,
            )
            .label(unit.span, "the unit")
            .severity(Severity::Error),
        );
    }
    let Some(plenum) = real("plenum-pressure") else {
        if !job.rests_on_airflow(&id("airflow")) {
            let thing = format!("zone `{name}`");
            report.not_known(&RULE.kind, thing, (job.ledger, &id("airflow")), zone.span);
        }
        return None;
    };
    // Nothing is shut for it, or all zones together strain them already: that is told elsewhere.
    let whole = job
        .ledger
        .real(&figure_id(["air-handler.", &unit.name, ".plenum-pressure"]));
    if whole.is_none_or(|whole| plenum <= whole * (1.0 + 1e-9)) {
        return None;
    }
    let stated = &unit.sheet.air.plenum_pressure;
    if let Some(range) = stated
        .get()
        .filter(|range| whole.is_some_and(|whole| whole <= range.most.value()))
    {
        let own = Limit::of_catalog(range.most.value(), stated.span);
        let most = ("most", Dimension::Pressure);
        let limit = job.limit(&RULE.kind, most, Relation::AtMost, own, report);
        if plenum > limit.value {
            let (found, needed) = show_pair(plenum, limit.value, Dimension::Pressure);
            let message = format!(
                "zone `{name}` alone drives the plenum of `{}` too high",
                unit.name
            );
            let help = match at_first_stage(job, unit, name, limit.value) {
                Some(plenum) => format!(
                    "{help}; or let it call the first stage only when it is alone: the plenum then stands at {plenum}"
                ),
                None => help.to_owned(),
            };
            let finding = Finding::new(&RULE.kind, zone.span, message, help).measured(
                found,
                Relation::AtMost,
                needed,
            );
            return Some(limit.mark(finding));
        }
    }
    let coil = |what: &str| {
        let id = figure_id(["coil.", &unit.name, ".", what, "@zone-", name]);
        job.ledger.real(&id)
    };
    let (margin, surface) = (coil("freeze-margin")?, coil("surface-temperature")?);
    let limit = margin_limit(job, &RULE.kind, unit, report);
    let usual = job
        .ledger
        .real(&figure_id(["coil.", &unit.name, ".freeze-margin"]));
    if margin >= limit.value || usual.is_some_and(|usual| usual < limit.value) {
        return None;
    }
    let opens = surface - margin;
    let (found, needed) = show_pair(surface, opens + limit.value, Dimension::Temperature);
    let message = format!(
        "zone `{name}` alone brings the coil of `{}` near ice",
        unit.name
    );
    let finding = Finding::new(&RULE.kind, zone.span, message, help).measured(
        found,
        Relation::AtLeast,
        needed,
    );
    Some(limit.mark(finding))
}
