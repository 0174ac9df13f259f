//! Every unit that waits for a call gets it, and gets the right one.

use crate::catalog::{Call, CallSide};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};
use crate::systems::controls::{Drive, Driver, Netlist, Place};

use super::{asked, free_colour, lost_calls};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL003",
        name: "call_not_driven",
        title: "call terminal that nothing drives",
        severity: Severity::Error,
        source: "the equipment's catalog",
        why: Why {
            checks: "The call terminal of each outdoor unit, chiller, boiler and air handler is driven, and by the call that it takes. A second stage that stays unused where it could be driven is a warning.",
            on_site: "The unit never starts, or runs in the wrong season.",
            fix: "Wire the terminal from the output named in the report.",
        },
    },
    example: Example {
        wrong: "cable ou-cable from ah to ou { type \"18/2\", wire white from ah.C to ou.C }",
        right: "cable ou-cable from ah to ou { type \"18/2\", wire red from ah.YO to ou.Y, wire white from ah.C to ou.C }",
    },
    check,
};

/// Whether a drive that carries `carried` serves a terminal that takes `taken`.
fn serves(carried: Call, taken: Call) -> bool {
    carried == taken
        || matches!(
            (carried, taken),
            (Call::Cool, Call::Cool2)
                | (Call::Heat, Call::Heat2)
                | (_, Call::Fan | Call::Reversing)
        )
}

/// The output or call that should drive a terminal.
fn source_for(net: &Netlist, kind: &str, call: Call) -> Option<String> {
    let side = if kind == "air-handler" {
        CallSide::Out
    } else {
        CallSide::Output
    };
    let of = |side| {
        net.points()
            .find(|(_, point)| point.call() == Some((side, call)))
            .map(|(_, point)| point.name.clone())
    };
    of(side)
}

/// How bad an idle terminal is; none when it may stay idle.
fn severity(job: &Job<'_>, net: &Netlist, n: usize, kind: &str, call: Call) -> Option<Severity> {
    let gives = |side| {
        net.points()
            .any(|(_, point)| point.call() == Some((side, call)))
    };
    let has = |wanted: &str| job.model.equipment.values().any(|unit| unit.kind == wanted);
    let unit = net
        .at(n)
        .and_then(|point| point.unit())
        .unwrap_or("")
        .to_owned();
    let touched = net
        .points()
        .any(|(m, point)| point.unit() == Some(&unit) && net.is_wired(m));
    match (kind, call) {
        (_, Call::Cool2 | Call::Heat2 | Call::Reversing) => (gives(CallSide::Out)
            && (kind == "air-handler" || gives(CallSide::Output)))
        .then_some(Severity::Warning),
        ("outdoor-unit" | "chiller", Call::Cool) => Some(Severity::Error),
        ("boiler", Call::Heat) => (touched || has("water-coil")).then_some(Severity::Error),
        ("air-handler", Call::Cool) => {
            (has("outdoor-unit") || has("chiller")).then_some(Severity::Error)
        }
        ("air-handler", Call::Heat) => (gives(CallSide::Out)
            && (has("boiler") || has("water-coil")))
        .then_some(Severity::Error),
        ("air-handler", Call::Fan) => touched.then_some(Severity::Error),
        _ => None,
    }
}

fn wrong_call(net: &Netlist, n: usize, call: Call, drive: &Drive) -> Option<Finding> {
    let (point, from) = (net.at(n)?, net.at(*drive.path.last()?)?);
    let carried = drive.call?;
    let before = drive.path.iter().rev().nth(1)?;
    let span = net.words_between(*before, *drive.path.last()?)?;
    let good = source_for(net, point.kind(), call)?;
    Some(
        Finding::new(
            &RULE.kind,
            span,
            format!(
                "`{}` takes the call for {} and gets that for {} from `{}`",
                point.name,
                asked(call),
                asked(carried),
                from.name
            ),
            format!("land it on `{good}`"),
        )
        .measured(
            Shown::word(from.name.clone()),
            Relation::Equal,
            Shown::word(good.clone()),
        )
        .edit(span, good),
    )
}

fn not_driven(job: &Job<'_>, net: &Netlist, n: usize, call: Call, head: Span) -> Option<Finding> {
    let point = net.at(n)?;
    let severity = severity(job, net, n, point.kind(), call)?;
    let good = source_for(net, point.kind(), call);
    let unit = point.unit().unwrap_or("");
    let from = good
        .as_ref()
        .and_then(|good| good.split_once('.'))
        .map_or("", |(from, _)| from);
    let cable = job.model.cables.values().find(|cable| {
        let ends = [cable.from.value.as_str(), cable.to.value.as_str()];
        ends.contains(&unit) && ends.contains(&from)
    });
    let colour = cable.and_then(|cable| free_colour(job, cable));
    let words = format!(
        "wire {} from {} to {}",
        colour.as_deref().unwrap_or("…"),
        good.as_deref().unwrap_or("…"),
        point.name
    );
    let needed = good.unwrap_or_else(|| format!("a call for {}", asked(call)));
    let mut finding = Finding::new(
        &RULE.kind,
        head,
        format!(
            "nothing drives `{}`, which takes the call for {}",
            point.name,
            asked(call)
        ),
        format!("add `{words}`"),
    )
    .measured(Shown::word("nothing"), Relation::Equal, Shown::word(needed))
    .severity(severity);
    if let (Some(wire), Some(_)) = (cable.and_then(|cable| cable.wires.last()), colour) {
        let after = Span::new(wire.span.file, wire.span.end, wire.span.end);
        finding = finding.edit(after, format!(", {words}"));
    }
    Some(finding)
}

fn check(job: &Job<'_>, report: &mut Report) {
    let net = Netlist::of(job.model, job.catalog);
    // Without thermostat or cable the controls are not described yet.
    if net.flawed || job.model.cables.is_empty() || job.model.thermostats.is_empty() {
        return;
    }
    let lost = lost_calls(job, &net);
    for (n, point) in net.points() {
        let (Place::Terminal { head, .. }, Some((CallSide::In, call))) =
            (&point.place, point.call())
        else {
            continue;
        };
        let drives = net.drives(n);
        // A call that goes astray is reported where it goes; a straight one by its own rule.
        let astray = lost.iter().any(|lost| lost.call == call);
        let finding = match drives.iter().find(|drive| drive.driver != Driver::Power) {
            None if !drives.is_empty() || astray => None,
            None => not_driven(job, &net, n, call, *head),
            Some(_)
                if drives
                    .iter()
                    .any(|drive| drive.call.is_some_and(|c| serves(c, call))) =>
            {
                None
            }
            Some(drive) if drive.driver == Driver::Output => wrong_call(&net, n, call, drive),
            Some(_) => None,
        };
        if let Some(finding) = finding {
            report.find(finding);
        }
    }
}
