//! A vent ends above the level at which the float switch trips.

use crate::model::Mark;
use crate::quantity::{Length, length_text, show_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN025",
        name: "vent_low",
        title: "vent that ends below the switch level",
        severity: Severity::Warning,
        source: "common practice",
        why: Why {
            checks: "The open end of a vent stands at least as high as the unit's secondary port, or 1 in above the pan's outlet where there is none: the level at which a stopped drain shows itself.",
            on_site: "The drain clogs, and the water runs out of the vent onto the ceiling before any switch has seen it.",
            fix: "Carry the vent higher.",
        },
    },
    example: Example {
        wrong: "drain first from ah.drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, vent 1 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain first from ah.drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, vent 8 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let needed = format!("drain.{}.vent-needed", drain.name);
        let Some(needed) = job.ledger.length(&needed) else {
            continue;
        };
        // A trap that does not fit is reported as that; what follows from its depth is not.
        let of = |what: &str| job.ledger.length(&format!("drain.{}.{what}", drain.name));
        if of("trap-height") < of("trap-height-needed") {
            continue;
        }
        for happening in &drain.happenings {
            let Mark::Vent(height) = happening.mark else {
                continue;
            };
            let Some(height) = height else {
                let thing = format!("vent of drain {}", drain.name);
                report.not_checked(
                    &RULE.kind,
                    thing,
                    "its height is not said",
                    Some(happening.span),
                );
                continue;
            };
            // Heights below the pan's outlet, as the crew measures them.
            let least = needed - happening.point.z;
            if height >= least {
                continue;
            }
            let good = length_text(least.round_up_to(Length::sixteenths(4)));
            report.find(
                Finding::new(
                    &RULE.kind,
                    happening.span,
                    format!(
                        "the vent of drain `{}` ends below the level at which a switch would trip",
                        drain.name
                    ),
                    format!("write `vent {good}`"),
                )
                .measured(show_length(height), Relation::AtLeast, show_length(least))
                .edit(happening.span, format!("vent {good}")),
            );
        }
    }
}
