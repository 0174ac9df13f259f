//! No single broken conductor takes a safety out of play.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::controls::Breach;

use super::proved::{breaches, is_told, landings_on};

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
        wrong: "relay r2 { model \"Test relay\", on ah }\ncable r2-cable from ah to r2 { type \"18/8\", wire red from float.S2 to r2.A1, wire white from ah.C to r2.A2, wire green from r2.NC to ah.F1, wire blue from r2.COM to ah.F2 }",
        right: "cable float-cable from float to ah { type \"18/2\", wire red from float.S1 to ah.F1, wire white from float.S2 to ah.F2 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let (net, circuit) = (job.wiring.net, &job.wiring.circuit);
    let mut shown: Vec<usize> = Vec::new();
    for breach in breaches(job) {
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
        // A switch that shorts the transformer is reported as that.
        let mut shorts = job.wiring.unrest().shorts.iter();
        let shorts = shorts.any(|short| landings_on(net, &short.way).contains(&span));
        if shown.contains(safety) || shorts || is_told(job, report, at.at, &[span]) {
            continue;
        }
        shown.push(*safety);
        let name = net.at(at.at).map_or("", |point| point.name.as_str());
        let joins: Vec<usize> = breaches(job)
            .iter()
            .filter_map(|other| match other {
                Breach::BrokenWire {
                    join, safety: s, ..
                } if s == safety => Some(*join),
                _ => None,
            })
            .collect();
        let conductors: Vec<String> = joins
            .iter()
            .filter_map(|join| circuit.conductor_of(*join))
            .collect();
        let mut finding = Finding::new(
            &RULE.kind,
            span,
            format!(
                "with {} broken, {} open and {}, `{name}` runs on",
                conductors.join(" or "),
                open.words(),
                circuit.case_words(case)
            ),
            format!(
                "use a switch that opens the call of `{name}` itself, so that a broken wire stops it too"
            ),
        )
        .measured(
            Shown::word("runs on"),
            Relation::Equal,
            Shown::word("stops"),
        );
        for other in joins.iter().skip(1).filter_map(|n| circuit.words_of(*n)) {
            finding = finding.label(other, "this one too");
        }
        report.find(finding);
    }
}
