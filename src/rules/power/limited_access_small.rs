//! Through the opening of a crawl space or a lay-in ceiling a person reaches the equipment.

use crate::model::Hatch;
use crate::quantity::{Dimension, Length};
use crate::rules::opening::smaller;
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Kind, Relation, Severity, Why};
use crate::systems::power::edition_of;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR039",
        name: "limited_access_small",
        title: "opening to electrical equipment too small",
        severity: Severity::Error,
        source: "NEC 110.26(A)(4) (2017 and later)",
        why: Why {
            checks: "Where an air handler, a panel or a disconnect stands on a story with `limited-access`, each opening to that story is large enough: 22 in x 22 in above a lay-in ceiling, 22 in x 30 in into a crawl space. The hatch of an attic is not named there; it has rules of its own.",
            on_site: "The electrician does not get in with a tool belt on, and does not get out in a hurry.",
            fix: "Widen the opening, or make another.",
        },
    },
    example: Example {
        wrong: "story under { floor 0 in, ceiling 3 ft 4 in, limited-access crawl-space }\npanel p2 on under { at 3 ft, 3 ft, faces east, supply 240/120 }\nattic-access trap-door on under { center 20 ft, 4 ft, size 21 in x 30 in }",
        right: "story under { floor 0 in, ceiling 3 ft 4 in, limited-access crawl-space }\npanel p2 on under { at 3 ft, 3 ft, faces east, supply 240/120 }\nattic-access trap-door on under { center 20 ft, 4 ft, size 22 in x 30 in }",
    },
    check,
};

/// Shorter side of both openings (NEC 110.26(A)(4)(a)).
const SHORT: Length = Length::inches(22);
/// Longer side into a crawl space (NEC 110.26(A)(4)(a)).
const LONG_OF_CRAWL: Length = Length::inches(30);

/// Whether electrical equipment of the job stands on a story.
fn has_equipment(job: &Job<'_>, story: &str) -> bool {
    let model = job.model;
    let on = |other: Option<&str>| other == Some(story);
    let handlers = model.air_handlers.values();
    let panels = model.panels.values();
    let disconnects = model.disconnects.values();
    handlers.map(|unit| Some(unit.story.as_str())).any(on)
        || panels.map(|panel| panel.story.as_deref()).any(on)
        || disconnects.map(|one| one.story.as_deref()).any(on)
}

fn check(job: &Job<'_>, report: &mut Report) {
    for hatch in job.model.house.hatches.values() {
        let story = job.model.house.stories.get(&hatch.story);
        let Some(sort) = story.and_then(|story| story.limited.as_ref()) else {
            continue;
        };
        // An opening that no equipment passes either is told once.
        let told = report
            .findings()
            .iter()
            .any(|finding| [hatch.clear.0.span, hatch.clear.1.span].contains(&finding.span));
        if told || !has_equipment(job, &hatch.story) {
            continue;
        }
        let (short, long) = if sort.value == "crawl-space" {
            (SHORT, LONG_OF_CRAWL)
        } else {
            (SHORT, SHORT)
        };
        one(job, hatch, (short, long), report);
    }
}

fn one(job: &Job<'_>, hatch: &Hatch, (short, long): (Length, Length), report: &mut Report) {
    let section = format!("NEC {}, 110.26(A)(4)", edition_of(job.model).year());
    let code = |value| Limit::default_of(value, &section, RULE.kind.severity);
    let mut limit = |name, own| {
        let name = (name, Dimension::Length);
        job.limit(&RULE.kind, name, Relation::AtLeast, code(own), report)
    };
    let (short, long) = (limit("short-side", short), limit("long-side", long));
    let message = format!(
        "opening `{}` is too small for the electrical equipment on `{}`",
        hatch.name, hatch.story
    );
    smaller(&RULE.kind, hatch, (&short, &long), message, report);
}
