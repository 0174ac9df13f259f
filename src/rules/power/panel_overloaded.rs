//! The panel carries what the job adds to what it carries already.

use crate::physics::conductor::standard_rating_at_or_above;
use crate::quantity::{Current, Dimension, number_text, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};
use crate::systems::power::{added, edition_of};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR034",
        name: "panel_overloaded",
        title: "panel that cannot carry the job's load",
        severity: Severity::Error,
        source: "NEC 408.30, 220.87, 430.24",
        why: Why {
            checks: "Where a panel's `load` says what it carries already (by Article 220, or 125 % of the highest demand of a year, 220.87), that and the job's circuits together are no more than its `rating`. All of the job's circuits count at once and the largest motor a quarter more; a circuit that is `existing` is in the load already.",
            on_site: "The main breaker trips on the first hot evening, with the oven on.",
            fix: "Have the service reckoned by Article 220 in full, which may find room; else take load off the panel, or a larger service.",
        },
    },
    example: Example {
        wrong: "panel p2 on first { at 30 ft, 6 ft, supply 240/120, rating 100 A, load 98 A }\ncircuit ah-power to ah { from panel p2, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240 }",
        right: "panel p2 on first { at 30 ft, 6 ft, supply 240/120, rating 100 A, load 60 A }\ncircuit ah-power to ah { from panel p2, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for panel in job.model.panels.values() {
        let (Some(rating), Some(first)) = (panel.rating, added(job.model, panel).next()) else {
            continue;
        };
        let thing = format!("panel {}", panel.name);
        let Some(load) = panel.load else {
            if !job.model.is_misread(&panel.name) {
                let reason = "what it carries already is not said (`load`)";
                report.not_checked(&RULE.kind, thing, reason, Some(panel.span));
            }
            continue;
        };
        let id = |what: &str| format!("panel.{}.{what}", panel.name);
        let whole = id("load-whole");
        let (Some(whole), Some(own)) =
            (job.ledger.real(&whole), job.ledger.real(&id("load-added")))
        else {
            report.not_known(&RULE.kind, thing, (job.ledger, &whole), load.span);
            continue;
        };
        if whole <= rating.value {
            continue;
        }
        let spare = (rating.value - own).max(0.0);
        let next = standard_rating_at_or_above(Current::new(whole), edition_of(job.model));
        let larger = next.map_or_else(String::new, |next| {
            format!(", or a service of {} A", number_text(next.value(), 0))
        });
        let (found, needed) = show_pair(whole, rating.value, Dimension::Current);
        report.find(
            Finding::new(
                &RULE.kind,
                load.span,
                format!(
                    "panel `{}` would carry more than its rating with the job's circuits",
                    panel.name
                ),
                format!(
                    "beside the job's {} A it carries a load of {} A at most: take load off it{larger}",
                    number_text(own, 1),
                    number_text((spare * 10.0).floor() / 10.0, 1)
                ),
            )
            .measured(found, Relation::AtMost, needed)
            .label(rating.span, "its rating")
            .label(
                first.span,
                format!("the job adds {} A", number_text(own, 1)),
            ),
        );
    }
}
