//! The feed loses no more than 3 % on its way.

use crate::quantity::{Dimension, show_pair, trade_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};
use crate::systems::power::cable_of;

use super::Section;
use super::voltage_left::{mended, running, starting};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR014",
        name: "voltage_drop_high",
        title: "voltage lost on a long feed",
        severity: Severity::Warning,
        source: "NEC 210.19, informational note: a recommendation",
        why: Why {
            checks: "At the running current the circuit loses no more than 3 % of its voltage between panel and unit.",
            on_site: "The motor runs hot and weak, and the lights dim when it starts.",
            fix: "Use thicker cable, or a panel nearer by.",
        },
    },
    example: Example {
        wrong: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 500 ft, volts 240 }",
        right: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let Some(length) = circuit
            .measured
            .filter(|_| cable_of(job.catalog, circuit).is_some())
        else {
            continue;
        };
        let id = format!("circuit.{}.drop", circuit.name);
        let Some(run) = running(job, circuit, report) else {
            report.not_known(
                &RULE.kind,
                format!("circuit {}", circuit.name),
                (job.ledger, &id),
                length.span,
            );
            continue;
        };
        let start = starting(job, circuit, report);
        // A motor that does not start at all is told instead.
        let told = start
            .as_ref()
            .is_some_and(|start| start.volts && !start.passes());
        if run.passes() || told {
            continue;
        }
        let most = &run.limit;
        let ratio = start.map_or(run.ratio, |start| start.ratio.min(run.ratio));
        let (found, needed) = show_pair(run.found, most.value, Dimension::Ratio);
        let source = if most.span.is_some() {
            most.source.clone()
        } else {
            format!("{}: a recommendation", Section::VOLTAGE_DROP.of(job))
        };
        let finding = mended(job, circuit, (length, ratio), |help| {
            Finding::new(
                &RULE.kind,
                length.span,
                format!(
                    "circuit `{}` loses more voltage over {} than recommended",
                    circuit.name,
                    trade_length(length.value)
                ),
                help,
            )
            .measured(found, Relation::AtMost, needed)
            .severity(most.severity)
            .source(source)
        });
        report.find(finding);
    }
}
