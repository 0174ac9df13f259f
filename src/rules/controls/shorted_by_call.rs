//! At no call, and with no safety open, does a contact join hot side and common of a transformer.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

use super::proved::{is_told_on, landings_on};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL035",
        name: "shorted_by_call",
        title: "transformer short-circuited through a contact",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "The wiring is run for every call of the thermostats with every set of safeties open: at none of them do closed contacts join the hot side of a transformer to its common with no load between them.",
            on_site: "All is well until the first call for heat: then the relay closes power onto common, and the transformer burns or its fuse goes, with the meter showing nothing wrong while no one calls.",
            fix: "Take the conductor named in the report off, and land it on the terminal that the contact is there for.",
        },
    },
    example: Example {
        wrong: "relay r2 { model \"Test relay\", on ah }\ncable r2-cable from ah to r2 { type \"18/5\", wire red from ah.WO to r2.A1, wire white from ah.C to r2.A2, wire green from ah.R to r2.COM, wire blue from ah.C to r2.NO }",
        right: "relay r2 { model \"Test relay\", on ah }\ncable r2-cable from ah to r2 { type \"18/5\", wire red from ah.WO to r2.A1, wire white from ah.C to r2.A2, spare green, spare blue }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let (net, circuit) = (job.wiring.net, &job.wiring.circuit);
    if net.flawed || job.model.cables.is_empty() {
        return;
    }
    for short in &job.wiring.unrest().shorts {
        let way = &short.way;
        if is_told_on(report, &landings_on(net, way)) {
            continue;
        }
        let Some(join) = circuit.worst_landing(way) else {
            continue;
        };
        let (Some(span), Some(conductor)) = (circuit.words_of(join), circuit.conductor_of(join))
        else {
            continue;
        };
        let source = way.first().and_then(|n| net.at(*n)?.unit()).unwrap_or("");
        report.find(
            Finding::new(
                &RULE.kind,
                span,
                format!(
                    "{}, and the transformer of `{source}` is short-circuited",
                    circuit.whole_words(&short.case)
                ),
                format!("take out {conductor}, or land it where its contact has a load behind it"),
            )
            .measured(
                Shown::word(net.path_words(way)),
                Relation::Not,
                Shown::word("joined"),
            ),
        );
    }
}
