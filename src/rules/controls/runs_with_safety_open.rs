//! Over the whole truth table: what a tripped safety has to stop does not run.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::controls::Breach;

use super::proved::{breaches, is_told, place_of};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL022",
        name: "runs_with_safety_open",
        title: "unit that runs on with a safety open",
        severity: Severity::Error,
        source: "the equipment's catalog; IMC 307.2.3.1 for the water switch; common practice for the freeze cut-out",
        why: Why {
            checks: "The wiring is run for every call of the thermostats with every set of safeties open: a water switch, a freeze cut-out or a limit of an air handler stops what its catalog says, and a water switch of its own stops what makes water, however the wires run.",
            on_site: "The pan runs over or the coil freezes, the switch has done its part, and the compressor runs on.",
            fix: "Take out the conductor named in the report, or wire the switch into the unit's safety terminals.",
        },
    },
    example: Example {
        wrong: "switch tray-float { model \"Test float\" }\ncable tray-cable from tray-float to ah { type \"18/2\", wire red from tray-float.S1 to ah.F1, wire white from tray-float.S1 to ah.F1 }",
        right: "switch tray-float { model \"Test float\" }\ncable tray-cable from tray-float to ah { type \"18/2\", wire red from tray-float.S1 to ah.F1, wire white from tray-float.S2 to ah.F2 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let (net, circuit) = (job.wiring.net, &job.wiring.circuit);
    let mut shown: Vec<usize> = Vec::new();
    for breach in breaches(job) {
        let Breach::Unstopped { load, safety, case } = breach else {
            continue;
        };
        let (Some(at), Some(open)) = (circuit.loads().get(*load), circuit.safeties().get(*safety))
        else {
            continue;
        };
        // A pump with neither lead wired is told with its drain.
        let idle = circuit.is_idle(*safety);
        if idle && job.model.pumps.contains_key(&open.name) {
            continue;
        }
        // One bypass lets every safety pass, one idle switch every load: the first of either shows it.
        if shown.contains(load) || is_told(job, report, at.at, &[open.span]) {
            continue;
        }
        shown.push(*load);
        let name = net.at(at.at).map_or("", |point| point.name.as_str());
        let way = circuit.feeding(*load, case, None).unwrap_or_default();
        let culprit = circuit.culprit(*load, case);
        let words = culprit
            .and_then(|join| circuit.words_of(join))
            .or_else(|| open.has_leads().then_some(open.span))
            .or_else(|| place_of(net, at.at));
        let Some(span) = words else { continue };
        let help = match culprit.and_then(|join| circuit.conductor_of(join)) {
            Some(conductor) => format!(
                "take out {conductor}, or land it behind the safeties; now: {}",
                net.path_words(&way)
            ),
            None => format!(
                "wire {} so that it opens what feeds `{name}`; now: {}",
                open.words(),
                net.path_words(&way)
            ),
        };
        report.find(
            Finding::new(
                &RULE.kind,
                span,
                format!(
                    "{} is open, {} and `{name}` is fed all the same",
                    open.words(),
                    circuit.case_words(case)
                ),
                help,
            )
            .measured(Shown::word("fed"), Relation::Equal, Shown::word("not fed"))
            .label(open.span, "the safety that is open"),
        );
    }
}
