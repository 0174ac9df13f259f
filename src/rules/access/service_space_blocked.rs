//! Nothing stands where a unit is served from.

use std::collections::BTreeMap;

use crate::catalog::TrunkHere;
use crate::figures::{Figure, FigureValue};
use crate::model::{AirHandler, PlacedSpace};
use crate::quantity::{Length, show_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Span, Why};

use super::blame::{blame, is_of_house, quoted};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "ACC001",
        name: "service_space_blocked",
        title: "something stands in a service space",
        severity: Severity::Error,
        source: "the equipment's catalog; IRC M1305.1",
        why: Why {
            checks: "That no obstacle, flue, wall, slope, ceiling, other equipment, trunk or drain lies in the boxes that the catalog keeps clear beside the unit: \
                     for the blower, the panels, the filter, the coil. A trunk may lie there where the catalog says so, as a piece that comes off. \
                     The unit's own drain may lead straight out of its port, and down.",
            on_site: "The blower or the coil can't be drawn out: a repair of an hour becomes a day with a saw.",
            fix: "Move the unit by the distance that the report gives, or move the other thing.",
        },
    },
    example: Example {
        wrong: "obstacle tank on attic { corner 5 ft, 2 ft, size 2 ft x 2 ft, height 30 in }",
        right: "obstacle tank on attic { corner 20 ft, 1 ft, size 2 ft x 2 ft, height 30 in }",
    },
    check,
};

/// One thing and every space that it stands in.
type Intrusions<'j> = Vec<(&'j Figure, &'j PlacedSpace, Length)>;

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values() {
        let mut things: BTreeMap<&str, Intrusions<'_>> = BTreeMap::new();
        for (n, space) in unit.spaces.iter().enumerate() {
            let before = format!("unit.{}.space{}.", unit.name, n + 1);
            for figure in job.ledger.iter() {
                let thing = figure.id.strip_prefix(&before);
                let (Some(thing), FigureValue::Length(depth)) = (thing, &figure.value) else {
                    continue;
                };
                if thing != "intrusion" {
                    things
                        .entry(thing)
                        .or_default()
                        .push((figure, space, *depth));
                }
            }
        }
        for (thing, spaces) in things {
            if let Some(finding) = finding(job, unit, thing, &spaces) {
                report.find(finding);
            }
        }
    }
}

fn finding(
    job: &Job<'_>,
    unit: &AirHandler,
    thing: &str,
    spaces: &Intrusions<'_>,
) -> Option<Finding> {
    let (figure, space, depth) = spaces.iter().max_by_key(|(.., depth)| *depth)?;
    let (own, words) = figure.places().next()?;
    let mut reasons = vec![space.reason.as_str()];
    for (_, other, _) in spaces {
        if !reasons.contains(&other.reason.as_str()) {
            reasons.push(&other.reason);
        }
    }
    let reasons = reasons.join("; ");
    let is_leg = thing.starts_with("trunk-") || thing.starts_with("drain-");
    let of_house = is_of_house(words);
    let (at, (beside, beside_words)) = blame(unit, own, words);
    let words = quoted(words);
    let way = job.ledger.word(&format!("{}.way_out", figure.id));
    let comes_off = thing.starts_with("trunk-") && space.trunk == TrunkHere::IfRemovable;
    let help = match way {
        Some(way) if of_house || thing.starts_with("flue-") || thing.starts_with("wall-") => {
            format!("move `{}` {way}", unit.name)
        }
        Some(way) => format!(
            "move `{}` {way}, or {words} as far the other way",
            unit.name
        ),
        None if comes_off => "write `removable` after this leg".to_owned(),
        None => format!(
            "lead {words} round the space, or turn `{}` the other way",
            unit.name
        ),
    };
    let verb = if is_leg { "lies" } else { "stands" };
    let mut finding = Finding::new(
        &RULE.kind,
        at,
        format!(
            "{words} {verb} in a service space of `{}`: {reasons}",
            unit.name
        ),
        help,
    )
    .measured(
        show_length(*depth),
        Relation::AtMost,
        show_length(Length::ZERO),
    )
    .label(beside, beside_words);
    if comes_off {
        let end = Span::new(own.file, own.end, own.end);
        finding = finding.edit(end, ", removable");
    }
    Some(finding.label(space.span, format!("the space: {}", space.reason)))
}
