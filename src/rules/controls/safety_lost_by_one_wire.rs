//! No single broken conductor takes a safety out of play.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::controls::Breach;

use super::proved::is_told;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL023",
        name: "safety_lost_by_one_wire",
        title: "safety that one broken wire takes out",
        severity: Severity::Warning,
        source: "common practice: safeties open to stop",
        why: Why {
            checks: "The wiring is run again with each conductor broken in turn and each safety open alone: nothing runs then that the safety stops while all conductors are whole.",
            on_site: "A staple nicks one conductor. Nobody notices, because everything runs; the day the pan fills, nothing stops.",
            fix: "Use a switch that opens on rise, in line with the call, instead of one that closes to pull a relay in.",
        },
    },
    example: Example {
        wrong: "",
        right: "",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let (net, circuit) = (job.wiring.net, &job.wiring.circuit);
    if net.flawed || job.model.cables.is_empty() {
        return;
    }
    for breach in job.wiring.breaches(job.model) {
        let Breach::BrokenWire {
            join,
            load,
            safety,
            case,
        } = breach
        else {
            continue;
        };
        let (Some(at), Some(open), Some(span)) = (
            circuit.loads().get(*load),
            circuit.safeties().get(*safety),
            circuit.words_of(*join),
        ) else {
            continue;
        };
        if is_told(job, report, at.at, &[span]) {
            continue;
        }
        let name = net.at(at.at).map_or("", |point| point.name.as_str());
        let conductor = circuit.conductor_of(*join).unwrap_or_default();
        report.find(
            Finding::new(
                &RULE.kind,
                span,
                format!(
                    "with {conductor} broken, {} open and `{name}` called, it runs on",
                    open.words()
                ),
                format!(
                    "wire {} so that it opens the call itself; when {}, a broken wire must stop `{name}` too",
                    open.words(),
                    circuit.case_words(case)
                ),
            )
            .measured(
                Shown::word("runs on"),
                Relation::Equal,
                Shown::word("stops"),
            )
            .label(open.span, "the safety"),
        );
    }
}
