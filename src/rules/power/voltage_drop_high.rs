//! The feed loses no more than 3 % on its way.

use crate::physics::conductor::{Size, Stranding, resistance};
use crate::quantity::{Dimension, show_pair, trade_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};
use crate::systems::power::cable_of;

use super::Section;

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

/// Recommended greatest loss in a branch circuit, percent (NEC 210.19, informational note).
const MOST: f64 = 3.0;

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let (Some(length), Some(cable)) = (circuit.measured, cable_of(job.catalog, circuit)) else {
            continue;
        };
        let id = format!("circuit.{}.drop", circuit.name);
        let Some(drop) = job.ledger.real(&id) else {
            report.not_known(
                &RULE.kind,
                format!("circuit {}", circuit.name),
                (job.ledger, &id),
                length.span,
            );
            continue;
        };
        let own = Limit::default_of(MOST, RULE.kind.source, RULE.kind.severity);
        let most = job.limit(
            &RULE.kind,
            ("drop", Dimension::Ratio),
            Relation::AtMost,
            own,
            report,
        );
        if drop <= most.value {
            continue;
        }
        let ohms = |gauge: Option<Size>| {
            gauge.and_then(|gauge| {
                resistance(gauge, Stranding::Solid)
                    .or_else(|| resistance(gauge, Stranding::Stranded))
            })
        };
        let own_ohms = ohms(cable.gauge.get().and_then(Size::awg));
        let better = job
            .catalog
            .cables
            .iter()
            .filter(|(_, other)| {
                other.use_for.get() == cable.use_for.get()
                    && other.conductors.get() == cable.conductors.get()
                    && other.ground.get() == cable.ground.get()
            })
            .filter_map(|(name, other)| {
                let ratio = ohms(other.gauge.get().and_then(Size::awg))? / own_ohms?;
                (drop * ratio <= most.value).then_some((name, ratio))
            })
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(name, _)| name);
        let (found, needed) = show_pair(drop, most.value, Dimension::Ratio);
        let source = if most.span.is_some() {
            most.source.clone()
        } else {
            format!("{}: a recommendation", Section::VOLTAGE_DROP.of(job))
        };
        let mut finding = Finding::new(
            &RULE.kind,
            length.span,
            format!(
                "circuit `{}` loses more voltage over {} than recommended",
                circuit.name,
                trade_length(length.value)
            ),
            better.map_or_else(
                || "use thicker cable, or a panel nearer by".to_owned(),
                |name| format!("write `cable \"{name}\"`"),
            ),
        )
        .measured(found, Relation::AtMost, needed)
        .severity(most.severity)
        .source(source);
        if let Some(item) = &circuit.cable {
            finding = finding.label(item.span, "through this cable");
            if let Some(name) = better {
                finding = finding.edit(item.span, format!("\"{name}\""));
            }
        }
        report.find(finding);
    }
}
