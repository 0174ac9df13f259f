//! Power and control enter a unit by openings of their own.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Spanned, Why};

use super::Section;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR015",
        name: "power_and_control_together",
        title: "power and control by one opening",
        severity: Severity::Error,
        source: "NEC 725.136; the equipment's catalog",
        why: Why {
            checks: "A control cable does not enter by the opening of the power cable, nor the power cable by the opening of the controls.",
            on_site: "The sharp edge of one knockout chafes both cables, and 240 V reaches the thermostat in the hall.",
            fix: "Bring each in by the opening that the sheet gives it.",
        },
    },
    example: Example {
        wrong: "cable stat-cable from stat to ah { type \"18/5\", enters ah.power, wire red from stat.R to ah.R, wire blue from stat.C to ah.C, wire green from stat.G to ah.G, wire yellow from stat.Y to ah.Y, wire white from stat.W to ah.W }",
        right: "cable stat-cable from stat to ah { type \"18/5\", enters ah.control, wire red from stat.R to ah.R, wire blue from stat.C to ah.C, wire green from stat.G to ah.G, wire yellow from stat.Y to ah.Y, wire white from stat.W to ah.W }",
    },
    check,
};

/// The other opening of the same unit, as the job writes it.
fn instead(port: &str, name: &str) -> Option<String> {
    port.split_once('.')
        .map(|(unit, _)| format!("{unit}.{name}"))
}

/// Whether a port, as the job writes it, is the one called `name`.
fn is_port(port: &str, name: &str) -> bool {
    port.split_once('.').is_some_and(|(_, own)| own == name)
}

fn found(job: &Job<'_>, port: &Spanned<String>, message: String, name: &str) -> Finding {
    let better = instead(&port.value, name);
    let mut finding = Finding::new(
        &RULE.kind,
        port.span,
        message,
        better.as_ref().map_or_else(
            || "bring each in by an opening of its own".to_owned(),
            |better| format!("write `enters {better}`"),
        ),
    )
    .measured(
        Shown::word(port.value.clone()),
        Relation::Equal,
        Shown::word(
            better
                .clone()
                .unwrap_or_else(|| "an opening of its own".to_owned()),
        ),
    )
    .source(format!(
        "{}; the equipment's catalog",
        Section::APART.of(job)
    ));
    if let Some(better) = better {
        finding = finding.edit(port.span, better);
    }
    finding
}

fn check(job: &Job<'_>, report: &mut Report) {
    let mut powered: Vec<&Spanned<String>> = Vec::new();
    for circuit in job.model.circuits.values() {
        let Some(port) = &circuit.enters else {
            continue;
        };
        let with_control = job
            .model
            .cables
            .values()
            .flat_map(|cable| &cable.enters)
            .any(|other| other.value == port.value);
        if is_port(&port.value, "control") {
            let message = format!(
                "the power of circuit `{}` enters by the opening of the controls",
                circuit.name
            );
            report.find(found(job, port, message, "power"));
        } else if with_control {
            powered.push(port);
        }
    }
    for cable in job.model.cables.values() {
        for port in &cable.enters {
            let shared = powered.iter().find(|power| power.value == port.value);
            if !is_port(&port.value, "power") && shared.is_none() {
                continue;
            }
            let message = format!(
                "control cable `{}` enters by the opening of the power",
                cable.name
            );
            let mut finding = found(job, port, message, "control");
            if let Some(power) = shared {
                finding = finding.label(power.span, "the power enters here");
            }
            report.find(finding);
        }
    }
}
