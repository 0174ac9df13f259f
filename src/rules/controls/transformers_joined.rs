//! At no call are two transformers joined, not even by one side.

use crate::catalog::Role;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::controls::{Breach, Point};

use super::proved::{breaches, is_told};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL027",
        name: "transformers_joined",
        title: "transformers joined while something calls",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "The wiring is run for every call, two thermostats calling at once among them: no terminal of one transformer conducts to one of another.",
            on_site: "It works for weeks, until both floors call together: then two transformers drive each other, and one burns or both fuses go.",
            fix: "Take out the wire between the two units, or put a relay between them.",
        },
    },
    example: Example {
        wrong: "cable fan-cable from ah to ah2 { type \"18/2\", wire red from ah.G to ah2.G }",
        right: "cable fan-cable from stat2 to ah2 { type \"18/2\", wire red from stat2.G to ah2.G }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let (net, circuit) = (job.wiring.net, &job.wiring.circuit);
    let mut shown: Vec<usize> = Vec::new();
    for breach in breaches(job) {
        let Breach::Joined { sources, case } = breach else {
            continue;
        };
        let Some((way, join)) = circuit.joining(*sources, case) else {
            continue;
        };
        let ends: Vec<usize> = way.first().into_iter().chain(way.last()).copied().collect();
        let told = ends.iter().any(|n| is_told(job, report, *n, &[]));
        let Some(span) = circuit.words_of(join) else {
            continue;
        };
        if told || shown.contains(&join) {
            continue;
        }
        shown.push(join);
        // By their commons alone no current flows yet; the next slip makes it.
        let is_common = |n: &&usize| net.at(**n).and_then(Point::role) == Some(Role::Common);
        let severity = if ends.iter().filter(is_common).count() == 2 {
            Severity::Warning
        } else {
            Severity::Error
        };
        report.find(
            Finding::new(
                &RULE.kind,
                span,
                format!(
                    "{}, and two transformers are joined: {}",
                    circuit.case_words(case),
                    net.path_words(&way)
                ),
                format!(
                    "take out {}",
                    circuit.conductor_of(join).unwrap_or_default()
                ),
            )
            .measured(Shown::word("joined"), Relation::Equal, Shown::word("apart"))
            .severity(severity),
        );
    }
}
