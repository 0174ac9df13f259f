//! A trunk goes through nothing solid and stays under its roof.

use crate::figures::FigureValue;
use crate::quantity::{Length, show_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

use super::blame::quoted;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "ACC010",
        name: "trunk_collision",
        title: "trunk runs into something solid or out of the roof",
        severity: Severity::Error,
        source: "geometry; for a flue the clearance that the job states",
        why: Why {
            checks: "That no leg of a trunk, by its pipe without insulation, lies in an obstacle, a flue with its clearance, a platform, other equipment or a roof plane of its unit's story, or reaches past the gable. Walls, floors and ceilings are gone through.",
            on_site: "The crew meets a chimney where the plan shows a duct; every hole after it moves, or the duct is squeezed by.",
            fix: "Shorten or turn the leg, move the unit, or correct the place of the other thing.",
        },
    },
    example: Example {
        wrong: "obstacle tank on attic { corner 17 ft, 5 ft, size 2 ft x 2 ft, height 30 in }",
        right: "obstacle tank on attic { corner 17 ft, 8 ft, size 2 ft x 2 ft, height 30 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for trunk in job.model.trunks.values() {
        let before = format!("trunk.{}.leg-", trunk.name);
        for figure in job.ledger.iter().filter(|one| one.id.starts_with(&before)) {
            let thing = figure.id.split_once(".in.").map(|(_, thing)| thing);
            let (Some(thing), FigureValue::Length(depth)) = (thing, &figure.value) else {
                continue;
            };
            let mut places = figure.places();
            let (Some((leg, _)), Some((other, words))) = (places.next(), places.next()) else {
                continue;
            };
            let (message, help, label) = if thing == "gable" {
                (
                    format!(
                        "this leg of trunk `{}` goes out through the gable",
                        trunk.name
                    ),
                    "shorten the leg, or correct the ends of the roof".to_owned(),
                    words.to_owned(),
                )
            } else {
                let words = quoted(words);
                (
                    format!("this leg of trunk `{}` runs into {words}", trunk.name),
                    format!(
                        "lead the leg past {words}, shorten it, or correct the place of either"
                    ),
                    words,
                )
            };
            report.find(
                Finding::new(&RULE.kind, leg, message, help)
                    .measured(
                        show_length(*depth),
                        Relation::AtMost,
                        show_length(Length::ZERO),
                    )
                    .label(other, label),
            );
        }
    }
}
