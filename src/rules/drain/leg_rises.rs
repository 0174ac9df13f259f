//! A drain never runs uphill.

use crate::model::Direction;
use crate::quantity::{Length, length_text, show_length, trade_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};
use crate::systems::drain::USUAL_FALL;

use super::leg_too_flat::fall_for;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN012",
        name: "leg_rises",
        title: "drain leg that runs uphill",
        severity: Severity::Error,
        source: "IRC M1411.3; IMC 307.2.1",
        why: Why {
            checks: "No leg of a drain rises toward its end.",
            on_site: "Everything before the rise stands full of water and backs up into the pan.",
            fix: "Let the leg fall, go round the obstacle lower down, or end the drain in a pump.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, rise 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        for leg in &drain.legs {
            let words = format!("{} {}", leg.direction.word(), trade_length(leg.length));
            if leg.direction == Direction::Up {
                report.find(
                    Finding::new(
                        &RULE.kind,
                        leg.span,
                        format!("leg `{words}` of drain `{}` goes up", drain.name),
                        "take the leg out, or end the drain in a pump before it",
                    )
                    .measured(
                        show_length(leg.length),
                        Relation::AtMost,
                        show_length(Length::ZERO),
                    ),
                );
                continue;
            }
            let Some(fall) = leg.fall.filter(|fall| fall.value < Length::ZERO) else {
                continue;
            };
            let good = format!("fall {}", length_text(fall_for(USUAL_FALL, leg)));
            report.find(
                Finding::new(
                    &RULE.kind,
                    fall.span,
                    format!("leg `{words}` of drain `{}` runs uphill", drain.name),
                    format!("write `{good}`"),
                )
                .measured(
                    show_length(fall.value.abs()),
                    Relation::AtMost,
                    show_length(Length::ZERO),
                )
                .label(leg.span, "over this length")
                .edit(fall.span, good),
            );
        }
    }
}
