//! Every circuit brings an equipment grounding conductor.

use crate::quantity::number_text;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::power::cable_of;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR006",
        name: "grounding_conductor_missing",
        title: "cable without a grounding conductor",
        severity: Severity::Error,
        source: "NEC 250.122, Table 250.122",
        why: Why {
            checks: "The cable has an equipment grounding conductor. By Table 250.122 it is sized by the breaker and never has to be thicker than the circuit's own conductors, which the full-size ground of building cable always meets.",
            on_site: "A chafed wire makes the whole cabinet live, and the breaker never trips.",
            fix: "Use a cable with ground.",
        },
    },
    example: Example {
        wrong: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2, no ground\", measured 62 ft, volts 240 }",
        right: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let (Some(item), Some(cable)) = (&circuit.cable, cable_of(job.catalog, circuit)) else {
            continue;
        };
        if cable.ground.get() != Some(false) {
            continue;
        }
        let needed = job
            .ledger
            .real(&format!("circuit.{}.ground-needed", circuit.name));
        let needed = needed.map_or_else(
            || "ground".to_owned(),
            |gauge| format!("ground of {} AWG", number_text(gauge, 0)),
        );
        let grounded = job.catalog.cables.iter().find(|(_, other)| {
            other.ground.get() == Some(true)
                && other.use_for.get() == Some(crate::catalog::CableUse::Power)
                && other.gauge.get() == cable.gauge.get()
                && other.conductors.get() == cable.conductors.get()
        });
        let mut finding = Finding::new(
            &RULE.kind,
            item.span,
            format!(
                "the cable of circuit `{}` has no grounding conductor",
                circuit.name
            ),
            grounded.map_or_else(
                || "use a power cable with ground".to_owned(),
                |(name, _)| format!("write `cable \"{name}\"`"),
            ),
        )
        .measured(
            Shown::word("no ground"),
            Relation::Equal,
            Shown::word(needed),
        )
        .label(cable.ground.span, "the catalog says so");
        if let Some((name, _)) = grounded {
            finding = finding.edit(item.span, format!("\"{name}\""));
        }
        report.find(finding);
    }
}
