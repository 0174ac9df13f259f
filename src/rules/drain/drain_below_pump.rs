//! Water runs into a pump from above.

use crate::quantity::{length_text, show_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN034",
        name: "drain_below_pump",
        title: "drain that ends below the pump's inlet",
        severity: Severity::Error,
        source: "geometry",
        why: Why {
            checks: "A drain that ends in a pump ends no lower than the top of the pump's tank.",
            on_site: "The pump sits there dry while the drain and the pan stand full.",
            fix: "Set the unit higher or the pump lower.",
        },
    },
    example: Example {
        wrong: "pump lift2 { model \"Example condensate pump\", on attic, center 8 ft, 2 ft }\ndrain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 8 in, discharge to lift2, air break }",
        right: "pump lift2 { model \"Example condensate pump\", on first, center 8 ft, 2 ft }\ndrain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 8 in, discharge to lift2, air break }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let Some(ending) = drain.ending.as_ref().filter(|_| !drain.flawed) else {
            continue;
        };
        // A unit too low for its trap is too low for the pump as well, and is reported as that.
        let of = |what: &str| job.ledger.length(&format!("drain.{}.{what}", drain.name));
        if of("trap-height") < of("trap-height-needed") {
            continue;
        }
        let inlet = format!("pump.{}.inlet", ending.to.value);
        let (Some(pump), Some(inlet), Some(last)) = (
            job.model.pumps.get(&ending.to.value),
            job.ledger.length(&inlet),
            drain.legs.len().checked_sub(1),
        ) else {
            continue;
        };
        let end = format!("drain.{}.leg-{}-end", drain.name, last + 1);
        let Some(end) = job.ledger.length(&end).filter(|end| *end < inlet) else {
            continue;
        };
        report.find(
            Finding::new(
                &RULE.kind,
                ending.to.span,
                format!(
                    "drain `{}` ends {} below the top of pump `{}`",
                    drain.name,
                    length_text(inlet - end),
                    pump.name
                ),
                format!(
                    "set the unit at least {} higher, or the pump lower",
                    length_text(inlet - end)
                ),
            )
            .measured(show_length(end), Relation::AtLeast, show_length(inlet))
            .label(pump.span, "the pump"),
        );
    }
}
