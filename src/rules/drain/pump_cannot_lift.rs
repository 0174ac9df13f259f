//! The pump moves more than comes to it, at the lift and through the tube that it has.

use crate::quantity::{Dimension, length_text, show_length, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN030",
        name: "pump_cannot_lift",
        title: "condensate pump that can't lift the water",
        severity: Severity::Error,
        source: "the pump's curve against lift and friction of its tube (Darcy–Weisbach)",
        why: Why {
            checks: "Where the pump's curve meets the lift and the friction of its tube, it moves more water than its drains bring in the wettest hour.",
            on_site: "The pump hums, the tank fills, and either its switch stops the cooling on the hottest day or it runs over.",
            fix: "Use wider tube, a lower lift or a pump with more head.",
        },
    },
    example: Example {
        wrong: "pump lift2 { model \"Example condensate pump\", on first, center 8 ft, 4 ft, lift 19 ft, pipe \"3/8 in vinyl tube\", measured 24 ft, check-valve, discharge to laundry-sink, air gap 2 in }",
        right: "pump lift2 { model \"Example condensate pump\", on first, center 8 ft, 4 ft, lift 6 ft, pipe \"3/8 in vinyl tube\", measured 12 ft, check-valve, discharge to laundry-sink, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for pump in job.model.pumps.values() {
        let id = |what: &str| format!("pump.{}.{what}", pump.name);
        let words = pump.lift.map_or(pump.span, |lift| lift.span);
        let thing = format!("pump {}", pump.name);
        if let (Some(lift), Some(measured)) = (pump.lift, pump.measured)
            && measured.value < lift.value
        {
            report.find(
                Finding::new(
                    &RULE.kind,
                    measured.span,
                    format!("the tube of pump `{}` is shorter than its lift", pump.name),
                    format!(
                        "measure again: at least `measured {}`",
                        length_text(lift.value)
                    ),
                )
                .measured(
                    show_length(measured.value),
                    Relation::AtLeast,
                    show_length(lift.value),
                )
                .label(lift.span, "what it lifts"),
            );
            continue;
        }
        let Some(moves) = job.ledger.real(&id("moves-hour")) else {
            report.not_known(&RULE.kind, thing, (job.ledger, &id("moves-hour")), words);
            continue;
        };
        let comes = job.ledger.real(&id("inflow-hour"));
        let Some(comes) = comes.or((moves <= 0.0).then_some(0.0)) else {
            report.not_known(&RULE.kind, thing, (job.ledger, &id("inflow-hour")), words);
            continue;
        };
        if moves > comes && moves > 0.0 {
            continue;
        }
        let message = if moves > 0.0 {
            format!(
                "pump `{}` moves less in an hour than comes to it",
                pump.name
            )
        } else {
            format!("pump `{}` can't lift water that high", pump.name)
        };
        let head = |what: &str| job.ledger.length(&id(what));
        let (found, relation, needed) = match (head("head"), head("head-most")) {
            (Some(asked), Some(most)) if moves <= 0.0 => {
                (show_length(asked), Relation::AtMost, show_length(most))
            }
            _ => {
                let (found, needed) = show_pair(moves, comes, Dimension::Volume);
                (found, Relation::AtLeast, needed)
            }
        };
        let mut finding = Finding::new(
            &RULE.kind,
            words,
            message,
            "use wider tube, a lower lift or a pump with more head",
        )
        .measured(found, relation, needed);
        if let Some(sheet) = pump
            .model
            .as_ref()
            .and_then(|model| job.catalog.pumps.get(&model.value))
        {
            finding = finding.label(sheet.lift.span, "the pump's highest lift");
        }
        report.find(finding);
    }
}
