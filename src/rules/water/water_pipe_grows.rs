//! A long straight pipe has room to grow.

use crate::quantity::{Dimension, Length, show_length_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD021",
        name: "water_pipe_grows",
        title: "long straight pipe without room to grow",
        severity: Severity::Advice,
        source: "common practice; ASHRAE Handbook—HVAC Systems and Equipment",
        why: Why {
            checks: "The growth of the longest straight leg of rigid pipe from 50 °F to the boiler's water: beyond 1/2 in it wants an offset, a loop or a guide that slides.",
            on_site: "The pipe creaks through the ceiling at every start, and pulls at its joints.",
            fix: "Break the leg with an offset of two elbows, or hang it so that it slides; leave play where it passes framing.",
        },
    },
    example: Example {
        wrong: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 60 ft, up 9 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }"#,
        right: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 30 ft, north 2 ft, west 30 ft, up 9 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }"#,
    },
    check,
};

/// Growth that needs nothing, an eighth of an inch four times over.
const MOST: Length = Length::sixteenths(8);

fn check(job: &Job<'_>, report: &mut Report) {
    for pipe in job.model.water.pipes.values() {
        let id = format!("water-pipe.{}.growth", pipe.name);
        let (Some(grows), Some(leg)) = (
            job.ledger.length(&id),
            pipe.legs.iter().max_by_key(|leg| leg.length),
        ) else {
            continue;
        };
        let limit = job.limit(
            &RULE.kind,
            ("growth", Dimension::Length),
            Relation::AtMost,
            Limit::default_of(MOST, RULE.kind.source, Severity::Advice),
            report,
        );
        if grows <= limit.value {
            continue;
        }
        let (shown, most) = show_length_pair(grows, limit.value);
        report.find(
            limit.mark(
                Finding::new(
                    &RULE.kind,
                    leg.span,
                    format!(
                        "this leg of water pipe `{}` grows and has no room",
                        pipe.name
                    ),
                    "break it with an offset of two legs, and leave play where it passes framing",
                )
                .measured(shown, Relation::AtMost, most),
            ),
        );
    }
}
