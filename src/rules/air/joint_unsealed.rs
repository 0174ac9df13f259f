//! Joints of the trunk are sealed, and the adapter stands on a gasket or its joint says what seals it.

use crate::language::Entry;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR042",
        name: "joint_unsealed",
        title: "joint of the trunk without a seal",
        severity: Severity::Error,
        source: "IRC M1601.4.1; IMC 603.9",
        why: Why {
            checks: "That a `joint` which the job describes names what seals it (mastic, tape, gasket, sealant, weld, solder), and that an adapter without a gasket of its own is followed by such a `joint`.",
            on_site: "At the pressure of a small-duct trunk a screwed joint alone hisses and blows the air of several outlets into the attic.",
            fix: "Seal it with mastic, listed tape or a gasket, and say so in `joint`.",
        },
    },
    example: Example {
        wrong: "trunk side from ah.supply { adapter \"11 in square to 9 in round\", pipe \"9 in round\", east 3 ft, joint \"screws\", removable, east 9 ft, cap }",
        right: "trunk side from ah.supply { adapter \"11 in square to 9 in round\", pipe \"9 in round\", east 3 ft, joint \"screws and tape\", removable, east 9 ft, cap }",
    },
    check,
};

/// What seals a joint (IRC M1601.4.1: mastic, tape, gasket, weld, liquid sealant).
const SEALS: [&str; 7] = ["mastic", "tape", "gasket", "seal", "weld", "solder", "braz"];

fn sealed(words: &str) -> bool {
    let words = words.to_lowercase();
    SEALS.iter().any(|seal| words.contains(seal))
}

fn joint(entry: &Entry) -> Option<(String, Span)> {
    let text = entry.text("joint").known()?;
    Some((text.value, text.span))
}

fn unsealed(at: Span, message: String, found: &str) -> Finding {
    Finding::new(
        &RULE.kind,
        at,
        message,
        "write what seals it, as in `joint \"screws and mastic\"`",
    )
    .measured(
        Shown::word(found),
        Relation::OneOf,
        Shown::word("mastic, tape, gasket, sealant"),
    )
}

fn walk(job: &Job<'_>, entry: &Entry, name: &str, report: &mut Report) {
    for (child, next) in entry.body.iter().zip(
        entry
            .body
            .iter()
            .skip(1)
            .map(Some)
            .chain(std::iter::once(None)),
    ) {
        match child.word.word {
            "joint" => {
                if let Some((words, span)) = joint(child).filter(|(words, _)| !sealed(words)) {
                    let message = format!("a joint of trunk `{name}` names nothing that seals it");
                    report.find(unsealed(span, message, &words));
                }
            }
            "adapter" => {
                let Some(named) = child.text("adapter").known() else {
                    continue;
                };
                let gasket = job
                    .catalog
                    .adapters
                    .get(&named.value)
                    .map(|sheet| &sheet.gasket);
                let said = next.is_some_and(|next| next.word.word == "joint");
                if let Some(gasket) = gasket.filter(|g| g.get() == Some(false) && !said) {
                    let message = format!(
                        "the adapter of trunk `{name}` has no gasket, and no joint after it says what seals it"
                    );
                    report.find(
                        unsealed(named.span, message, "no gasket")
                            .label(gasket.span, "the catalog says so"),
                    );
                }
            }
            "tee" | "branch" => walk(job, child, name, report),
            _ => {}
        }
    }
}

fn check(job: &Job<'_>, report: &mut Report) {
    for entry in job.model.entries.iter().filter(|e| e.word.word == "trunk") {
        if let Some(name) = entry.text("name").known() {
            walk(job, entry, &name.value, report);
        }
    }
}
