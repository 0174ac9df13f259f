//! Water falls into a pump, not beside it.

use crate::quantity::{Dimension, Length, length_text, show_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN048",
        name: "drain_beside_pump",
        title: "drain that ends beside its pump",
        severity: Severity::Warning,
        source: "geometry; 6 in for a short end piece: common practice",
        why: Why {
            checks: "On plan, a drain that ends in a pump ends over its tank: within half of the pump's longer side of its middle, and 6 in more that a short end piece makes up.",
            on_site: "The pipe is cut and hung as drawn and ends over the floor; somebody adds a piece without fall.",
            fix: "Lead the drain on to the pump, or set the pump under the drain's end.",
        },
    },
    example: Example {
        wrong: "pump lift2 { model \"Example condensate pump\", on first, center 20 ft, 2 ft }\ndrain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 8 in, discharge to lift2, air break }",
        right: "pump lift2 { model \"Example condensate pump\", on first, center 8 ft, 2 ft }\ndrain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 8 in, discharge to lift2, air break }",
    },
    check,
};

/// What a short end piece makes up: common practice.
const END_PIECE: Length = Length::inches(6);

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let Some(ending) = drain.ending.as_ref().filter(|_| !drain.flawed) else {
            continue;
        };
        let id = |what: &str| format!("drain.{}.{what}", drain.name);
        let (Some(pump), Some(apart), Some(tank)) = (
            job.model.pumps.get(&ending.to.value),
            job.ledger.length(&id("pump-apart")),
            job.ledger.length(&id("pump-half")),
        ) else {
            continue;
        };
        let piece = job.limit(
            &RULE.kind,
            ("end-piece", Dimension::Length),
            Relation::AtMost,
            Limit::default_of(END_PIECE, RULE.kind.source, Severity::Warning),
            report,
        );
        let most = tank + piece.value;
        if apart <= most {
            continue;
        }
        let finding = Finding::new(
            &RULE.kind,
            ending.to.span,
            format!(
                "drain `{}` ends {} from the middle of pump `{}` on plan",
                drain.name,
                length_text(apart),
                pump.name
            ),
            "lead its last leg on to the pump, or give the pump the `center` that lies under the drain's end",
        )
        .measured(show_length(apart), Relation::AtMost, show_length(most))
        .label(pump.span, "the pump");
        report.find(piece.mark(finding));
    }
}
