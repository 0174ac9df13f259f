//! A control cable that lies outdoors is made for sun and wet.

use crate::catalog::Cable as Sheet;
use crate::model::Cable;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

use super::conductors_too_many::can_replace;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL030",
        name: "cable_not_for_outdoors",
        title: "control cable outdoors that is not made for it",
        severity: Severity::Warning,
        source: "NEC 110.3(B) and article 722, from memory; the stock's catalog",
        why: Why {
            checks: "The catalog rates a control cable that the job lays outdoors for sun and wet.",
            on_site: "After two summers the jacket splits, water creeps along the conductors, and the outdoor unit starts by itself or not at all.",
            fix: "Take a cable that is rated for outdoors, or put it in a raceway of its own.",
        },
    },
    example: Example {
        wrong: "cable extra from ah to ou { type \"18/2 indoors\", outdoors, wire red from ah.YO to ou.Y }",
        right: "cable extra from ah to ou { type \"18/2\", outdoors, wire red from ah.YO to ou.Y }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for cable in job.model.cables.values() {
        let item = cable
            .item
            .as_ref()
            .and_then(|item| job.catalog.cables.get(&item.value));
        let (Some(said), Some(item)) = (cable.outdoors, item) else {
            continue;
        };
        match item.outdoors.as_ref() {
            None => report.not_checked(
                &RULE.kind,
                format!("cable {}", cable.name),
                "the catalog does not say whether it may lie outdoors",
                Some(said),
            ),
            Some(stated) if stated.get() == Some(false) => report.find(
                Finding::new(
                    &RULE.kind,
                    said,
                    format!(
                        "cable `{}` lies outdoors and is not made for it",
                        cable.name
                    ),
                    outdoor_stock(job, cable, item).map_or_else(
                        || "take a cable that is rated for sun and wet".to_owned(),
                        |names| format!("take one of: {names}"),
                    ),
                )
                .measured(
                    Shown::word("not rated"),
                    Relation::Equal,
                    Shown::word("rated for outdoors"),
                )
                .label(stated.span, "the cable in the catalog"),
            ),
            Some(_) => {}
        }
    }
}

/// Cables of the stock that can take the place of one that lies outdoors, where there are any.
fn outdoor_stock(job: &Job<'_>, cable: &Cable, own: &Sheet) -> Option<String> {
    let names: Vec<&str> = job
        .catalog
        .cables
        .iter()
        .filter(|(_, other)| {
            let count = |sheet: &Sheet| sheet.conductors.get().map(|count| count.0);
            can_replace(cable, own, other) && count(other) >= count(own)
        })
        .map(|(name, _)| name.as_str())
        .collect();
    (!names.is_empty()).then(|| names.join(", "))
}
