//! There is room for the trap between the pan's outlet and the floor.

use crate::quantity::{length_text, show_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN022",
        name: "unit_too_low",
        title: "unit too low for its trap",
        severity: Severity::Error,
        source: "geometry of the trap",
        why: Why {
            checks: "The drop, the seal, the bore and the wall of the trap fit between the pan's outlet and the floor or deck under it.",
            on_site: "The trap stands on the joists: the crew cuts it shallow, or cuts the joist.",
            fix: "Set the unit on a stand of the height named in the report, or lead the trap past the edge of the deck.",
        },
    },
    example: Example {
        wrong: "air-handler low { model \"Test 3-ton, flat\", on attic, center 20 ft, 6 ft, discharge toward east, stand 2 in, tap 4 }\ndrain d from low.drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", south 4 in, cleanout, trap drop 2 3/8 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "air-handler low { model \"Test 3-ton, flat\", on attic, center 20 ft, 6 ft, discharge toward east, stand 10 in, tap 4 }\ndrain d from low.drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", south 4 in, cleanout, trap drop 2 3/8 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let id = |what: &str| format!("drain.{}.{what}", drain.name);
        let of = |what: &str| job.ledger.length(&id(what));
        let Some((trap, ..)) = drain.traps().next() else {
            continue;
        };
        let (Some(room), Some(needed)) = (of("trap-height"), of("trap-height-needed")) else {
            let thing = format!("trap of drain {}", drain.name);
            report.not_known(
                &RULE.kind,
                thing,
                (job.ledger, &id("trap-height-needed")),
                trap.span,
            );
            continue;
        };
        let (Some(unit), true) = (job.model.air_handlers.get(&drain.unit), room < needed) else {
            continue;
        };
        let stand = of("stand-needed").map(length_text).unwrap_or_default();
        let mut finding = Finding::new(
            &RULE.kind,
            trap.span,
            format!(
                "the trap of drain `{}` does not fit between the pan's outlet of `{}` and the floor",
                drain.name, unit.name
            ),
            format!("set the unit higher: `stand {stand}`"),
        )
        .measured(show_length(room), Relation::AtLeast, show_length(needed));
        finding = match unit.stand {
            Some(height) => finding
                .label(height.span, "the height of the unit")
                .edit(height.span, stand),
            None => finding.label(unit.span, "the unit stands on its floor"),
        };
        report.find(finding);
    }
}
