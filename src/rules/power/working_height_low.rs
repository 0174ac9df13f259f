//! Before a panel or a disconnect somebody can stand upright.

use crate::quantity::{Dimension, Length, show_length_pair, trade_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

use super::front::Asked;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR038",
        name: "working_height_low",
        title: "too low to work before a panel or disconnect",
        severity: Severity::Error,
        source: "NEC 110.26(A)(3), (A)(4)",
        why: Why {
            checks: "The ceiling over a panel or a disconnect is at least 6 1/2 ft high. In a dwelling that stood before the job a panel of no more than 200 A may be lower; so may what stands in a crawl space or above a lay-in ceiling (`limited-access`), where the size of the opening counts instead. For the disconnect of air-conditioning equipment it is an error since the edition of 2023, by 440.14, and a warning before.",
            on_site: "Somebody works on his knees or with a bent neck before live parts, and cannot jump back.",
            fix: "Set it where the ceiling is high enough, on another wall or another story.",
        },
    },
    example: Example {
        wrong: "story cellar { floor 0 in, ceiling 6 ft 2 in }\npanel p2 on cellar { at 30 ft, 6 ft, faces west, supply 240/120, rating 400 A }",
        right: "story cellar { floor 0 in, ceiling 6 ft 8 in }\npanel p2 on cellar { at 30 ft, 6 ft, faces west, supply 240/120, rating 400 A }",
    },
    check,
};

/// Height of the working space (NEC 110.26(A)(3)).
const HIGH: Length = Length::inches(78);
/// A panel up to this may be lower in a dwelling that stood before, A (NEC 110.26(A)(3), exception 1).
const EXISTING: f64 = 200.0;

/// Whether the house stood before the year of the job's latest revision.
fn stood_before(job: &Job<'_>) -> bool {
    let year = |date: &str| date.get(..4).and_then(|year| year.parse::<f64>().ok());
    let latest = job
        .model
        .job
        .revisions
        .iter()
        .filter_map(|revision| year(&revision.date.value))
        .reduce(f64::max);
    let built = job.model.job.year_built.map(|year| year.value);
    built.zip(latest).is_some_and(|(built, now)| built < now)
}

fn one(job: &Job<'_>, asked: &Asked<'_>, report: &mut Report) {
    let front = &asked.front;
    let id = front.id("headroom");
    let story = front
        .story
        .and_then(|story| job.model.house.stories.get(story));
    let (Some(clear), Some(story)) = (job.ledger.length(&id), story) else {
        return;
    };
    let own = Limit::default_of(HIGH, &asked.section, asked.severity);
    let name = ("height", Dimension::Length);
    let least = job.limit(&RULE.kind, name, Relation::AtLeast, own, report);
    if clear >= least.value || story.limited.is_some() {
        return;
    }
    let (found, needed) = show_length_pair(clear, least.value);
    let high = trade_length(least.value);
    let help = if front.word == "disconnect" {
        format!(
            "set it where the ceiling is {high} high, in sight of its unit; a crawl space is written `limited-access crawl-space` in its story"
        )
    } else if job
        .model
        .panels
        .get(front.name)
        .is_some_and(|panel| panel.rating.is_none())
        && stood_before(job)
    {
        format!(
            "set it where the ceiling is {high} high; where it is rated 200 A or less, write its `rating`: an existing house may keep it"
        )
    } else {
        let stories = &job.model.house.stories;
        stories
            .values()
            .find(|other| other.ceiling >= least.value)
            .map_or_else(
                || format!("set it where the ceiling is {high} high"),
                |other| {
                    let tall = trade_length(other.ceiling);
                    format!("set it on `{}`, {tall} high", other.name)
                },
            )
    };
    report.find(
        least.mark(
            Finding::new(
                &RULE.kind,
                front.span,
                format!(
                    "{} `{}` stands under a ceiling too low to work upright",
                    front.word, front.name
                ),
                help,
            )
            .measured(found, Relation::AtLeast, needed)
            .label(
                story.ceiling_span,
                format!("the ceiling of `{}`", story.name),
            ),
        ),
    );
}

fn check(job: &Job<'_>, report: &mut Report) {
    for panel in job.model.panels.values() {
        let small = panel.rating.is_some_and(|rating| rating.value <= EXISTING);
        if !(small && stood_before(job)) {
            one(job, &Asked::of_panel(job, panel), report);
        }
    }
    for disconnect in job.model.disconnects.values() {
        one(job, &Asked::of_disconnect(job, disconnect), report);
    }
}
