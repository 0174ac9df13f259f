//! The blower runs on while the freeze cut-out is open, so that the coil thaws.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::controls::Breach;

use super::proved::{breaches, is_told};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL024",
        name: "blower_stops_with_freeze",
        title: "blower that stops with the freeze cut-out",
        severity: Severity::Warning,
        source: "common practice",
        why: Why {
            checks: "On a call for cooling with the freeze cut-out open, something still calls the blower, and the catalog lets it run.",
            on_site: "The compressor stops, the ice stays: without air it takes hours to thaw, and the room gets warm.",
            fix: "Wire the thermostat's fan call, so that cooling brings the blower with it.",
        },
    },
    example: Example {
        wrong: "cable stat-cable from stat to ah { type \"18/5\", wire red from stat.R to ah.R, wire yellow from stat.Y to ah.Y }",
        right: "cable stat-cable from stat to ah { type \"18/5\", wire red from stat.R to ah.R, wire yellow from stat.Y to ah.Y, wire green from stat.G to ah.G }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let (net, circuit) = (job.wiring.net, &job.wiring.circuit);
    for breach in breaches(job) {
        let Breach::BlowerStops { unit, safety, case } = breach else {
            continue;
        };
        let is_lost = |n: usize| {
            let at = circuit.loads().get(n).and_then(|load| net.at(load.at));
            at.and_then(|at| at.unit()) == Some(unit)
        };
        let lost = breaches(job)
            .iter()
            .any(|other| matches!(other, Breach::Lost { load, .. } if is_lost(*load)));
        let (Some(open), Some(handler)) = (
            circuit.safeties().get(*safety),
            job.model.air_handlers.get(unit),
        ) else {
            continue;
        };
        // A call that is lost altogether is reported as that.
        let inputs = net.points().filter(|(_, point)| {
            point.unit() == Some(unit)
                && matches!(point.call(), Some((crate::catalog::CallSide::In, _)))
        });
        if lost
            || inputs
                .into_iter()
                .any(|(n, _)| is_told(job, report, n, &[handler.span]))
        {
            continue;
        }
        report.find(
            Finding::new(
                &RULE.kind,
                handler.span,
                format!(
                    "{} is open, {} and the blower of `{unit}` stands still",
                    open.words(),
                    circuit.case_words(case)
                ),
                format!("wire the thermostat's fan call to `{unit}`"),
            )
            .measured(
                Shown::word("still"),
                Relation::Equal,
                Shown::word("running"),
            )
            .label(open.span, "the safety"),
        );
    }
}
