//! A control cable that lies outdoors is made for sun and wet.

use crate::catalog::Stated;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

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
    for entry in &job.model.entries {
        let Some(said) = (entry.word.word == "cable")
            .then(|| entry.child("outdoors"))
            .flatten()
        else {
            continue;
        };
        let cable = entry
            .text("name")
            .known()
            .and_then(|name| job.model.cables.get(&name.value));
        let Some((cable, item)) = cable.and_then(|cable| {
            let item = cable.item.as_ref()?;
            Some((cable, job.catalog.cables.get(&item.value)?))
        }) else {
            continue;
        };
        match item.outdoors.as_ref() {
            None => report.not_checked(
                &RULE.kind,
                format!("cable {}", cable.name),
                "the catalog does not say whether it may lie outdoors",
                Some(said.span),
            ),
            Some(stated) if stated.get() == Some(false) => report.find(
                Finding::new(
                    &RULE.kind,
                    said.span,
                    format!(
                        "cable `{}` lies outdoors and is not made for it",
                        cable.name
                    ),
                    outdoor_stock(job).map_or_else(
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

/// Control cables of the stock that may lie outdoors, where there are any.
fn outdoor_stock(job: &Job<'_>) -> Option<String> {
    let names: Vec<&str> = job
        .catalog
        .cables
        .iter()
        .filter(|(_, sheet)| {
            sheet.use_for.get() == Some(crate::catalog::CableUse::Control)
                && sheet.outdoors.as_ref().and_then(Stated::get) == Some(true)
        })
        .map(|(name, _)| name.as_str())
        .collect();
    (!names.is_empty()).then(|| names.join(", "))
}
