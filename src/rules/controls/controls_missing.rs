//! Every unit that waits for a call has control wiring.

use crate::rules::described::Trade;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL019",
        name: "controls_missing",
        title: "unit without control wiring",
        severity: Severity::Error,
        source: "the equipment's catalog; common practice",
        why: Why {
            checks: "From the stage of the order on, and once the other trades are described, a control cable ends at each air handler, outdoor unit, chiller and thermostat. Until then it is said to be not checked.",
            on_site: "The walls are closed before somebody asks where the thermostat cable is.",
            fix: "Add the cable with its wires, terminal to terminal.",
        },
    },
    example: Example {
        wrong: "air-handler ah2 { model \"Test 3-ton, flat\", on attic, center 20 ft, 6 ft, discharge toward east, stand 10 in, tap 4 }",
        right: "air-handler ah2 { model \"Test 3-ton, flat\", on attic, center 20 ft, 6 ft, discharge toward east, stand 10 in, tap 4 }\ncable tie from ah to ah2 { type \"18/8\", wire white from ah.C to ah2.C, wire green from ah.G to ah2.G, wire yellow from ah.Y to ah2.Y, wire brown from ah.W to ah2.W, spare red }",
    },
    check,
};

/// Units that want a control cable, in the order of the report.
fn units<'a>(job: &Job<'a>) -> Vec<(&'a str, &'static str, Span)> {
    let handlers = job
        .model
        .air_handlers
        .values()
        .map(|unit| (unit.name.as_str(), "air-handler", unit.span));
    let thermostats = job
        .model
        .thermostats
        .values()
        .map(|unit| (unit.name.as_str(), "thermostat", unit.span));
    let others = job
        .model
        .equipment
        .values()
        .filter(|unit| matches!(unit.kind, "outdoor-unit" | "chiller"))
        .map(|unit| (unit.name.as_str(), unit.kind, unit.span));
    handlers.chain(thermostats).chain(others).collect()
}

/// Whether a cable ends at a unit, or one of its wires does.
pub(super) fn is_cabled(job: &Job<'_>, name: &str) -> bool {
    let at = |end: &str| end == name || end.split_once('.').is_some_and(|(unit, _)| unit == name);
    job.model.cables.values().any(|cable| {
        at(&cable.from.value)
            || at(&cable.to.value)
            || cable
                .wires
                .iter()
                .any(|wire| at(&wire.from.value) || at(&wire.to.value))
    })
}

fn check(job: &Job<'_>, report: &mut Report) {
    let bare: Vec<_> = units(job)
        .into_iter()
        .filter(|(name, ..)| !is_cabled(job, name) && !job.model.is_misread(name))
        .collect();
    if !job.misses(Trade::Controls) {
        for (name, kind, span) in bare {
            // The thermostat's calls say so already.
            if kind != "thermostat" {
                report.not_checked(
                    &RULE.kind,
                    format!("{kind} {name}"),
                    "no control cable is described yet",
                    Some(span),
                );
            }
        }
        return;
    }
    // Where the air handler has no cable the others lack theirs with it; a call that is missed is reported as that.
    let handler = bare.iter().any(|(_, kind, _)| *kind == "air-handler");
    for (name, kind, span) in bare {
        let told = report
            .findings
            .iter()
            .any(|finding| finding.kind.code.starts_with("CTL") && finding.span == span);
        if told || kind != "air-handler" && handler {
            continue;
        }
        let from = match kind {
            "air-handler" => job.model.thermostats.keys().next(),
            _ => job.model.air_handlers.keys().next(),
        };
        let from = from.map_or("…", String::as_str);
        report.find(
            Finding::new(
                &RULE.kind,
                span,
                format!("no control cable ends at `{name}`"),
                format!("add a `cable … from {from} to {name}` with its wires"),
            )
            .measured(Shown::count(0), Relation::AtLeast, Shown::count(1)),
        );
    }
}
