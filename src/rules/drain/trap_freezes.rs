//! The water that stands in a trap does not freeze.

use crate::model::Stage;
use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Span, Why};
use crate::systems::drain::{KEEPS_WATER, suffix};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN043",
        name: "trap_freezes",
        title: "trap that freezes",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "From the rough-in on, a trap in a space that is colder than 33 °F in winter, a degree over freezing, says what keeps it from freezing: a heat cable, a trap drained each fall, or antifreeze.",
            on_site: "The trap splits in January; nobody knows until the first cooling day, when the whole drain runs into the ceiling.",
            fix: "Add `freeze-protection heat-cable`, or drain the trap each fall and write `freeze-protection drained-in-fall`.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, freeze-protection heat-cable, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        if drain.freeze.is_some() {
            continue;
        }
        for (n, (trap, ..)) in drain.traps().enumerate() {
            let id = format!("drain.{}.trap-winter{}", drain.name, suffix(n));
            let thing = format!("trap of drain {}", drain.name);
            let Some(cold) = job.ledger.real(&id) else {
                report.not_known(&RULE.kind, thing, (job.ledger, &id), trap.span);
                continue;
            };
            if cold >= KEEPS_WATER {
                continue;
            }
            if job.model.job.stage < Stage::RoughIn {
                let reason = "what keeps it from freezing is not said yet";
                report.not_checked(&RULE.kind, thing, reason, Some(trap.span));
                continue;
            }
            let (found, needed) = show_pair(cold, KEEPS_WATER, Dimension::Temperature);
            let before = Span::new(trap.span.file, trap.span.start, trap.span.start);
            let mut finding = Finding::new(
                &RULE.kind,
                trap.span,
                format!("the trap of drain `{}` freezes in winter", drain.name),
                "add `freeze-protection heat-cable`, or `freeze-protection drained-in-fall`",
            )
            .measured(found, Relation::AtLeast, needed)
            .edit(before, "freeze-protection heat-cable, ");
            let story = job.model.house.story_at(trap.point.z);
            if let Some(winter) = story.and_then(|story| story.winter) {
                finding = finding.label(winter.span, "the space in winter");
            }
            report.find(finding);
            break;
        }
    }
}
