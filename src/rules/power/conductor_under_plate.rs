//! The conductors carry what the plate asks for, where they lie.

use crate::catalog::Cable;
use crate::model::Circuit;
use crate::physics::conductor::Size;
use crate::physics::feed::carried;
use crate::quantity::{Dimension, number_text, show_pair, show_real};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Span, Spanned, Why};
use crate::systems::power::{cable_of, ground_lacking, laid_of, plates_of};

use super::Section;
use super::breaker_under_plate::asking;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR004",
        name: "conductor_under_plate",
        title: "conductors too small for the plate",
        severity: Severity::Error,
        source: "NEC 440.35, 334.80, Table 310.16",
        why: Why {
            checks: "After correction for the heat and for cables that lie together, and never above what its sheath (60 C for NM and UF) and its terminals allow, the cable carries the plate's minimum circuit ampacity; of several units on one circuit that of the largest and the currents of the others whole (440.33).",
            on_site: "The cable bakes in the attic, its insulation turns brittle, and years later it fails inside a wall.",
            fix: "Use the thicker cable named in the report, or keep it out of the hot space.",
        },
    },
    example: Example {
        wrong: "circuit ou-power to ou { from panel p1, breaker 30 A 2-pole, cable \"14/2 with ground\", measured 40 ft, volts 240 }",
        right: "circuit ou-power to ou { from panel p1, breaker 30 A 2-pole, cable \"10/2 with ground\", measured 40 ft, volts 240 }",
    },
    check,
};

/// The thinnest cable of the catalogs, with as many conductors, that carries `needed` where the circuit lies.
fn thicker<'a>(
    job: &Job<'a>,
    circuit: &Circuit,
    cable: &Cable,
    (hot, needed): (f64, f64),
) -> Option<(&'a str, f64)> {
    let carries = |other: &Cable| -> Option<f64> {
        let size = other.gauge.get().and_then(Size::awg)?;
        let laid = laid_of(circuit, other, hot)?;
        Some(carried(size, &laid)?.ampacity.value())
    };
    job.catalog
        .cables
        .iter()
        .filter(|(_, other)| {
            cable.made_like(other)
                && ground_lacking(job.model, circuit, other, job.ledger).is_none()
        })
        .filter_map(|(name, other)| Some((name.as_str(), carries(other)?)))
        .filter(|(_, carried)| *carried >= needed)
        .min_by(|a, b| a.1.total_cmp(&b.1))
}

/// How many cables may lie together for this one to carry `needed`; none where that does not mend it.
fn apart(circuit: &Circuit, cable: &Cable, (hot, needed): (f64, f64)) -> Option<u32> {
    let bundled = circuit.bundled?;
    let size = cable.gauge.get().and_then(Size::awg)?;
    (1_u32..64)
        .take_while(|count| f64::from(*count) < bundled.value)
        .take_while(|count| {
            let mut fewer = circuit.clone();
            fewer.bundled = Some(Spanned::new(f64::from(*count), bundled.span));
            laid_of(&fewer, cable, hot)
                .and_then(|laid| carried(size, &laid))
                .is_some_and(|found| found.ampacity.value() >= needed)
        })
        .last()
}

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let Some(item) = &circuit.cable else { continue };
        let id = |what: &str| format!("circuit.{}.{what}", circuit.name);
        let thing = || format!("circuit {}", circuit.name);
        let Some(cable) = cable_of(job.catalog, circuit) else {
            // A control cable is told as that.
            if job.catalog.cables.contains_key(&item.value) {
                continue;
            }
            let reason = format!("no catalog of the job holds a cable `{}`", item.value);
            report.not_checked(&RULE.kind, thing(), reason, Some(item.span));
            continue;
        };
        let Some(carries) = job.ledger.real(&id("ampacity")) else {
            report.not_known(
                &RULE.kind,
                thing(),
                (job.ledger, &id("ampacity")),
                item.span,
            );
            continue;
        };
        let Some(needed) = job.ledger.real(&id("least-ampacity")) else {
            report.not_known(
                &RULE.kind,
                thing(),
                (job.ledger, &id("least-ampacity")),
                item.span,
            );
            continue;
        };
        if carries >= needed {
            continue;
        }
        let of = |what: &str| job.ledger.real(&id(what));
        let better = of("ambient").and_then(|hot| thicker(job, circuit, cable, (hot, needed)));
        let fewer = of("ambient").and_then(|hot| apart(circuit, cable, (hot, needed)));
        let (found, needed_shown) = show_pair(carries, needed, Dimension::Current);
        let mut finding = Finding::new(
            &RULE.kind,
            item.span,
            format!(
                "the conductors of circuit `{}` carry less than {} for",
                circuit.name,
                asking(circuit)
            ),
            match (better, fewer) {
                (Some((name, _)), _) => format!("write `cable \"{name}\"`"),
                (None, Some(1)) => {
                    "lay it apart from other cables, and take `bundled` out".to_owned()
                }
                (None, Some(count)) => {
                    format!("lay no more than {count} cables together: `bundled {count}`")
                }
                (None, None) => format!(
                    "use a cable that carries {} A where it lies",
                    number_text(needed, 1)
                ),
            },
        )
        .measured(found, Relation::AtLeast, needed_shown)
        .source(Section::AMPACITY.of(job));
        if let Some((name, _)) = better {
            finding = finding.edit(item.span, format!("\"{name}\""));
        }
        let mut plates: Vec<Span> = plates_of(job.model, job.catalog, circuit)
            .iter()
            .filter_map(|(_, plate)| Some(plate.least_ampacity?.span))
            .collect();
        plates.dedup();
        for span in plates {
            finding = finding.label(span, "minimum circuit ampacity on the plate");
        }
        for further in &circuit.feeds {
            finding = finding.label(further.span, "on the same circuit");
        }
        if let (Some(bundled), Some(factor)) = (circuit.bundled, of("bundle-factor"))
            && factor < 1.0
        {
            let text = format!(
                "{} cables together leave {} % of that",
                number_text(bundled.value, 0),
                number_text(factor * 100.0, 0)
            );
            finding = finding.label(bundled.span, text);
        }
        if let (Some(ambient), Some(heat)) = (of("ambient"), of("ambient-factor"))
            && heat < 1.0
        {
            let space = circuit
                .through
                .first()
                .map_or(circuit.unit.span, |space| space.span);
            let text = format!(
                "{} around the cable leaves {} % of its {} A",
                show_real(ambient, Dimension::Temperature).text,
                number_text(heat * 100.0, 0),
                number_text(of("ampacity-table").unwrap_or(0.0), 0)
            );
            finding = finding.label(space, text);
        }
        report.find(finding);
    }
}
