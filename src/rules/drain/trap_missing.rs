//! A pan under suction drains through a trap.

use crate::model::{AirHandler, Drain};
use crate::quantity::{Length, length_text};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN001",
        name: "trap_missing",
        title: "drain without a trap",
        severity: Severity::Error,
        source: "IMC 307.2.4 and the equipment's catalog; level balance for a pan under suction",
        why: Why {
            checks: "A drain has a trap when the unit's catalog asks for one, and always when its pan stands under suction.",
            on_site: "Air is drawn up the open drain, holds the water back and throws it off the pan: the ceiling below gets wet while the drain stays dry.",
            fix: "Add a trap next to the unit, with the drop and the seal that the suction asks for.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

/// The trap to add, in the words of the language; none while the suction is not known.
fn trap_words(job: &Job<'_>, drain: &Drain) -> Option<String> {
    let of = |what: &str| job.ledger.length(&format!("drain.{}.{what}", drain.name));
    let (drop, seal) = (of("drop-practice")?, of("seal-practice")?);
    Some(format!(
        "trap drop {}, seal {}",
        length_text(drop),
        length_text(seal)
    ))
}

fn report_missing(job: &Job<'_>, unit: &AirHandler, drain: &Drain, report: &mut Report) {
    let required = unit.sheet.trap.required.get() == Some(true)
        && drain
            .port
            .value
            .split_once('.')
            .is_some_and(|(_, port)| port == "drain");
    let suction = job
        .ledger
        .real(&format!("air-handler.{}.pan-suction", unit.name));
    let under_suction = suction.is_some_and(|suction| suction > 0.0);
    let under_pressure = super::under_pressure(job, drain);
    if !required && !under_suction && !under_pressure {
        return;
    }
    let words = trap_words(job, drain);
    let help = words.as_ref().map_or_else(
        || {
            "add `trap drop …, seal …` next to the unit, once the suction at the pan is known"
                .to_owned()
        },
        |words| format!("add `{words}` next to the unit"),
    );
    let mut finding = Finding::new(
        &RULE.kind,
        drain.span,
        format!(
            "drain `{}` leaves a pan under {} without a trap",
            drain.name,
            if under_pressure {
                "pressure"
            } else {
                "suction"
            }
        ),
        help,
    )
    .measured(Shown::count(0), Relation::AtLeast, Shown::count(1));
    if required {
        finding = finding.label(
            unit.sheet.trap.required.span,
            "the catalog asks for a trap here",
        );
    } else if let Some(pressure) = unit.pressure {
        finding = finding
            .label(pressure.span, "pressure at the pan")
            .severity(Severity::Warning)
            .source("common practice");
    } else {
        finding = finding.label(unit.sheet.suction.span, "suction at the pan");
    }
    if let (Some(words), Some(first)) = (words, drain.legs.first()) {
        let near = unit
            .sheet
            .trap
            .most_distance
            .get()
            .unwrap_or(Length::inches(6));
        let edit = if first.length <= near {
            (
                crate::source::Span::new(first.span.file, first.span.end, first.span.end),
                format!(", {words}"),
            )
        } else {
            (
                crate::source::Span::new(first.span.file, first.span.start, first.span.start),
                format!("{words}, "),
            )
        };
        finding = finding.edit(edit.0, edit.1);
    }
    report.find(finding);
}

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        if drain.flawed || drain.pan.is_some() || drain.traps().next().is_some() {
            continue;
        }
        if let Some(unit) = job.model.air_handlers.get(&drain.unit) {
            report_missing(job, unit, drain, report);
        }
    }
}
