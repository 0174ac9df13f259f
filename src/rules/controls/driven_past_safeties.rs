//! Outdoor unit, chiller, boiler and pump are called from behind the air handler's safeties.

use crate::catalog::{Call, CallSide};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Scalar, Severity, Shown, Span, Why};
use crate::systems::controls::{Drive, Driver, Netlist, Place, Point, feeds_itself};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL001",
        name: "driven_past_safeties",
        title: "equipment called past the safeties",
        severity: Severity::Error,
        source: "the equipment's catalog; IMC 307.2.3.1 for the water switch; common practice for the freeze cut-out",
        why: Why {
            checks: "The call of an outdoor unit, chiller, boiler or pump comes from an output of the air handler behind its safeties, never straight from the thermostat: neither by a wire, nor by spare conductors, splices, switches or relays that join the two.",
            on_site: "The coil freezes into a block of ice, or the full pan runs over, and the compressor runs on: nothing can stop it but the thermostat.",
            fix: "Land the call on the air handler's output named in the report.",
        },
    },
    example: Example {
        wrong: "cable ou-cable from ah to ou { type \"18/2\", wire red from ah.Y to ou.Y, wire white from ah.C to ou.C }",
        right: "cable ou-cable from ah to ou { type \"18/2\", wire red from ah.YO to ou.Y, wire white from ah.C to ou.C }",
    },
    check,
};

/// Kinds that the safeties have to be able to stop.
const STOPPED: &[&str] = &["outdoor-unit", "chiller", "boiler", "pump", "circulator"];

/// The output that `call` belongs on: its own, or for a second stage that of the first.
fn output_for(net: &Netlist, call: Call) -> Option<String> {
    let of = |call| {
        net.points()
            .find(|(_, point)| point.call() == Some((CallSide::Output, call)))
            .map(|(_, point)| point.name.clone())
    };
    of(call).or_else(|| match call {
        Call::Cool2 => of(Call::Cool),
        Call::Heat2 => of(Call::Heat),
        _ => None,
    })
}

/// The words at fault on the way back from the driven terminal: the first end that is neither the terminal itself,
/// nor an output, nor part of a relay; and whether nothing but conductors lies before it.
fn fault(net: &Netlist, drive: &Drive) -> Option<(Span, bool)> {
    let mut straight = true;
    for pair in drive.path.windows(2) {
        let (before, here) = (*pair.first()?, *pair.last()?);
        let point = net.at(here)?;
        let passes = match &point.place {
            Place::Conductor { .. } => true,
            Place::Splice => {
                straight = false;
                true
            }
            Place::Terminal { kind, .. } => {
                let output = matches!(point.call(), Some((CallSide::Output, _)));
                straight &= !output;
                output || matches!(*kind, "relay" | "switch")
            }
        };
        if passes {
            continue;
        }
        return net.words_between(before, here).map(|span| (span, straight));
    }
    None
}

/// The thermostat's wire lands on an output in place of the call terminal before it, which stands free.
fn on_output(net: &Netlist, driven: &Point, drive: &Drive, words: &str) -> Option<Finding> {
    let last = drive.path.last()?;
    let pair = drive.path.windows(2).find(|pair| {
        pair.first()
            .and_then(|n| net.at(*n))
            .is_some_and(|point| matches!(point.call(), Some((CallSide::Output, _))))
    })?;
    let (output, wire) = (*pair.first()?, *pair.last()?);
    let at = net.at(output)?;
    let (_, call) = at.call()?;
    let (_, free) = net.points().find(|(n, point)| {
        point.unit() == at.unit() && point.call() == Some((CallSide::In, call)) && !net.is_wired(*n)
    })?;
    let span = net.words_between(output, wire)?;
    Some(
        Finding::new(
            &RULE.kind,
            span,
            format!(
                "`{}` is called by `{}` past the safeties of `{}`",
                driven.name,
                net.at(*last)?.name,
                at.unit()?
            ),
            format!("land it on `{}`; now: {words}", free.name),
        )
        .measured(
            Shown::word(at.name.clone()),
            Relation::Equal,
            Shown::word(free.name.clone()),
        )
        .edit(span, free.name.clone()),
    )
}

fn check(job: &Job<'_>, report: &mut Report) {
    let net = job.wiring.net;
    // A relay whose coil shares its voltage with another load is reported with the voltages.
    let strays = if net.flawed || job.model.cables.is_empty() {
        &[]
    } else {
        job.wiring.strays(job.model, job.catalog)
    };
    let astray = job.wiring.circuit.coils_astray(strays);
    for (n, point) in net.points() {
        let (Place::Terminal { kind, head, .. }, Some((CallSide::In, call))) =
            (&point.place, point.call())
        else {
            continue;
        };
        if !STOPPED.contains(kind) {
            continue;
        }
        let Some(output) = output_for(net, call) else {
            continue;
        };
        let Some(drive) = net
            .drives(n)
            .into_iter()
            .filter(|drive| !drive.path.iter().any(|n| astray.contains(n)))
            .find(|drive| drive.driver == Driver::Thermostat)
        else {
            continue;
        };
        let mut way = drive.path.clone();
        way.reverse();
        let words = net.path_words(&way);
        let from = way
            .first()
            .and_then(|first| net.at(*first))
            .map_or("", |first| first.name.as_str());
        if let Some(finding) = on_output(net, point, &drive, &words) {
            if !report
                .findings
                .iter()
                .any(|other| other.span == finding.span)
            {
                report.find(finding);
            }
            continue;
        }
        let (span, straight) = fault(net, &drive).unwrap_or((*head, false));
        let unit = output.split_once('.').map_or("", |(unit, _)| unit);
        let model = point
            .unit()
            .and_then(|unit| job.model.equipment.get(unit)?.model.as_ref());
        let itself = model.is_some_and(|model| feeds_itself(job.catalog, &model.value))
            && !drive
                .path
                .iter()
                .any(|n| net.at(*n).is_some_and(|at| at.kind() == "relay"));
        let help = if itself {
            format!(
                "put a relay between the two transformers: its coil on `{output}`, its contact alone on `{}`; now: {words}",
                point.name
            )
        } else if straight {
            format!("land it on `{output}` instead; now: {words}")
        } else {
            format!(
                "take the joint out and land `{}` on `{output}` alone; now: {words}",
                point.name
            )
        };
        let mut finding = Finding::new(
            &RULE.kind,
            span,
            format!(
                "`{}` is called by `{from}` past the safeties of `{unit}`",
                point.name
            ),
            help,
        )
        .measured(
            Shown::word(from),
            Relation::OneOf,
            Shown {
                value: Scalar::Words(vec![output.clone()]),
                unit: None,
                text: output.clone(),
            },
        );
        if let Some(handler) = job.model.air_handlers.get(unit)
            && let Some(safety) = handler.sheet.safeties.values().next()
        {
            finding = finding.label(safety.span, "a safety that can't stop it now");
        }
        if straight && !itself {
            finding = finding.edit(span, output);
        }
        report.find(finding);
    }
}
