//! The second drain ends where somebody notices it.

use crate::model::Stage;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN039",
        name: "overflow_unseen",
        title: "second drain that nobody sees",
        severity: Severity::Error,
        source: "IRC M1411.3.1",
        why: Why {
            checks: "From the rough-in on, a drain from a secondary port or a pan ends in a tub, sink, lavatory or shower, or says with `seen` where somebody sees it run; it never joins another drain or a pump.",
            on_site: "The first way has been stopped since May, and the second one runs unseen until it stops too.",
            fix: "End it over a door or window or another place that is looked at, and write `seen`.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to floor-drain, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, seen \"over the back door\", discharge to outside }",
    },
    check,
};

/// Words in the names of fixtures that somebody uses every day.
const FIXTURES: &[&str] = &["tub", "sink", "lavatory", "shower", "basin"];

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let Some(ending) = drain.ending.as_ref().filter(|_| drain.is_second_line()) else {
            continue;
        };
        let to = &ending.to.value;
        let hidden = job.model.drains.contains_key(to) || job.model.pumps.contains_key(to);
        let used = FIXTURES
            .iter()
            .any(|word| to.split('-').any(|part| part == *word));
        if !hidden && (drain.seen.is_some() || used) || drain.flawed {
            continue;
        }
        if job.model.job.stage < Stage::RoughIn && !hidden {
            report.not_checked(
                &RULE.kind,
                format!("drain {}", drain.name),
                "where it is seen is not said yet",
                Some(ending.span),
            );
            continue;
        }
        let mut finding = Finding::new(
            &RULE.kind,
            ending.to.span,
            format!("nobody sees drain `{}` run at `{to}`", drain.name),
            "end it where it is noticed, and say so: `seen \"over the back door\"`",
        )
        .measured(
            Shown::word("not seen"),
            Relation::Equal,
            Shown::word("a place that is noticed"),
        );
        if !hidden {
            let before = Span::new(ending.span.file, ending.span.start, ending.span.start);
            finding = finding.edit(before, "seen \"over the back door\", ");
        }
        report.find(finding);
    }
}
