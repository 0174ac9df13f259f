//! Condensate does not run where people walk.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN045",
        name: "end_on_walkway",
        title: "condensate onto a street or walkway",
        severity: Severity::Error,
        source: "IRC M1411.3; IMC 307.2.1",
        why: Why {
            checks: "No drain or pump ends at a street, an alley, a sidewalk, a walkway or a driveway. What other places are approved is local: ask.",
            on_site: "Algae in summer and ice in the shoulder season; somebody falls.",
            fix: "End it in an approved place: a floor drain, a laundry sink, a standpipe, a dry well where the city takes one.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to sidewalk, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

/// Words in the names of places where people walk or drive.
const WALKED: &[&str] = &[
    "street",
    "alley",
    "sidewalk",
    "walkway",
    "walk",
    "driveway",
    "gutter-curb",
];

fn check(job: &Job<'_>, report: &mut Report) {
    let drains = job
        .model
        .drains
        .values()
        .map(|drain| ("drain", &drain.name, &drain.ending));
    let pumps = job
        .model
        .pumps
        .values()
        .map(|pump| ("pump", &pump.name, &pump.ending));
    for (kind, name, ending) in drains.chain(pumps) {
        let Some(ending) = ending else { continue };
        let to = &ending.to.value;
        let walked = WALKED
            .iter()
            .any(|word| to.split('-').any(|part| part == *word));
        if !walked {
            continue;
        }
        report.find(
            Finding::new(
                &RULE.kind,
                ending.to.span,
                format!("{kind} `{name}` ends where people walk: `{to}`"),
                "name an approved place, such as a floor drain or a laundry sink; ask the building department",
            )
            .measured(
                Shown::word(to.clone()),
                Relation::Not,
                Shown::word("a street, alley, walkway or driveway"),
            ),
        );
    }
}
