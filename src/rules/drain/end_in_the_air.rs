//! A drain reaches down to what takes its water.

use crate::quantity::{Dimension, Length, length_text, show_length_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN051",
        name: "end_in_the_air",
        title: "drain that ends in the air",
        severity: Severity::Warning,
        source: "common practice; a standpipe ends at most 42 in above its trap (IPC 802.4, from memory)",
        why: Why {
            checks: "A drain that goes to a sink, tub, basin, standpipe or floor drain ends no higher than 7 ft over the floor of its story, and one that goes to a pump no higher than 18 in over the pump.",
            on_site: "A leg is missing or has the wrong length: the water falls through the room and splashes, or the pipe is pieced out on the day with what lies about.",
            fix: "Lead the drain down to what takes its water.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, down 18 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, down 7 ft, discharge to tub, air gap 2 in }",
    },
    check,
};

/// Highest end over a floor on which a receptor stands: no receptor stands over head height.
const OVER_FLOOR: Length = Length::inches(84);
/// Highest end over a pump.
const OVER_PUMP: Length = Length::inches(18);

/// Parts of the names of what stands on a floor and takes water from above.
const STANDS: &[&str] = &[
    "sink",
    "tub",
    "lavatory",
    "shower",
    "basin",
    "standpipe",
    "receptor",
    "floor",
];

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values().filter(|drain| !drain.flawed) {
        let id = format!("drain.{}.end-above", drain.name);
        let (Some(ending), Some(above)) = (&drain.ending, job.ledger.length(&id)) else {
            continue;
        };
        let to = &ending.to.value;
        let pump = job.model.pumps.get(to);
        let stands = to.split('-').any(|part| STANDS.contains(&part));
        if pump.is_none() && !stands {
            continue;
        }
        let (name, own) = match pump {
            Some(_) => ("over-pump", OVER_PUMP),
            None => ("over-floor", OVER_FLOOR),
        };
        let most = job.limit(
            &RULE.kind,
            (name, Dimension::Length),
            Relation::AtMost,
            Limit::default_of(own, RULE.kind.source, RULE.kind.severity),
            report,
        );
        if above <= most.value {
            continue;
        }
        let story = drain
            .legs
            .last()
            .and_then(|leg| job.model.house.story_at(leg.end.z));
        let over = match (pump, story) {
            (Some(pump), _) => format!("over pump `{}`", pump.name),
            (None, Some(story)) => format!("over the floor of `{}`, not at `{to}`", story.name),
            (None, None) => format!("over the floor, not at `{to}`"),
        };
        let (found, needed) = show_length_pair(above, most.value);
        let at = drain.legs.last().map_or(ending.span, |leg| leg.span);
        report.find(
            most.mark(
                Finding::new(
                    &RULE.kind,
                    at,
                    format!("drain `{}` ends {} {over}", drain.name, length_text(above)),
                    format!(
                        "lead it at least {} further down",
                        length_text(above - most.value)
                    ),
                )
                .measured(found, Relation::AtMost, needed)
                .label(ending.to.span, "where it is to end"),
            ),
        );
    }
}
