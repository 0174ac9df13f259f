//! Every unit that waits for a call gets it, and gets the right one.

use crate::catalog::{Call, CallSide, Role};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};
use crate::systems::controls::{Drive, Driver, Netlist, Place, Point, Wrong, serves};

use super::common_missing::feeds_itself;
use super::{asked, lost_calls, wire_to_add};

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
    // No board stands in the way of the valve's call.
    of(side).or_else(|| of(CallSide::Out).filter(|_| call == Call::Reversing))
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
        ("outdoor-unit", Call::Reversing) => gives(CallSide::Out).then_some(Severity::Error),
        (_, Call::Cool2 | Call::Heat2 | Call::Reversing | Call::Dehumidify | Call::Emergency) => {
            (gives(CallSide::Out) && (kind == "air-handler" || gives(CallSide::Output)))
                .then_some(Severity::Warning)
        }
        ("outdoor-unit" | "chiller", Call::Cool) => Some(Severity::Error),
        ("boiler", Call::Heat) => (touched || has("water-coil")).then_some(Severity::Error),
        // A unit without any control wire is reported as that.
        ("air-handler", Call::Cool) => {
            (touched && (has("outdoor-unit") || has("chiller"))).then_some(Severity::Error)
        }
        ("air-handler", Call::Heat) => {
            (touched && gives(CallSide::Out) && (has("boiler") || has("water-coil")))
                .then_some(Severity::Error)
        }
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

/// The coil end, of a relay whose contact stands at `n`, that waits for the call.
fn relay_coil(net: &Netlist, n: usize) -> Option<String> {
    let relay = net
        .members(net.net(n))
        .find(|(_, point)| point.kind() == "relay")
        .and_then(|(_, point)| point.unit().map(str::to_owned))?;
    let coils = || {
        net.points()
            .filter(|(_, point)| point.role() == Some(Role::Coil) && point.unit() == Some(&relay))
    };
    coils()
        .find(|(n, _)| !net.is_wired(*n))
        .or_else(|| coils().next())
        .map(|(_, point)| point.name.clone())
}

/// What helps where no terminal of the job gives the call.
fn nobody_calls(kind: &str, call: Call) -> String {
    if kind == "air-handler" {
        let call = asked(call);
        format!("no thermostat of the job has a terminal that calls for {call}: take one that has")
    } else {
        format!(
            "no air handler of the job passes a call for {} on: take one that does",
            asked(call)
        )
    }
}

fn not_driven(job: &Job<'_>, net: &Netlist, n: usize, call: Call, head: Span) -> Option<Finding> {
    let point = net.at(n)?;
    let severity = severity(job, net, n, point.kind(), call)?;
    let good = source_for(net, point.kind(), call);
    let needed = good
        .clone()
        .unwrap_or_else(|| format!("a call for {}", asked(call)));
    let from = good.as_deref().unwrap_or("…");
    let itself = job
        .model
        .equipment
        .get(point.unit().unwrap_or(""))
        .and_then(|unit| unit.model.as_ref())
        .is_some_and(|model| feeds_itself(job, &model.value));
    let coil = relay_coil(net, n);
    let to = coil.as_deref().unwrap_or(&point.name);
    let ends_at = |name: &str| name.split_once('.').map_or("", |(unit, _)| unit).to_owned();
    let cable = job.model.cables.values().find(|cable| {
        let ends = [&cable.from.value, &cable.to.value];
        ends.contains(&&ends_at(to)) && ends.contains(&&ends_at(from))
    });
    let (help, edit) = if good.is_none() {
        (nobody_calls(point.kind(), call), None)
    } else if itself && coil.is_none() {
        let help = format!(
            "put a relay between the two transformers: its coil on `{from}`, its contact on `{}`",
            point.name
        );
        (help, None)
    } else {
        wire_to_add(job, cable, from, to)
    };
    let mut finding = Finding::new(
        &RULE.kind,
        head,
        format!(
            "nothing drives `{}`, which takes the call for {}",
            point.name,
            asked(call)
        ),
        help,
    )
    .measured(Shown::word("nothing"), Relation::Equal, Shown::word(needed))
    .severity(severity);
    if let Some((after, words)) = edit {
        finding = finding.edit(after, words);
    }
    Some(finding)
}

/// A unit with a transformer of its own closes its call between two terminals; the other one is open.
fn open_loop(job: &Job<'_>, net: &Netlist, n: usize, head: Span) -> Option<Finding> {
    let unit = net.at(n)?.unit()?;
    let model = job.model.equipment.get(unit)?.model.as_ref()?;
    let others: Vec<(usize, &str)> = net
        .points()
        .filter(|(_, point)| point.unit() == Some(unit) && point.role() == Some(Role::Switch))
        .map(|(n, point)| (n, point.name.as_str()))
        .collect();
    let open = !others.is_empty() && others.iter().all(|(n, _)| !net.is_wired(*n));
    if !open || !feeds_itself(job, &model.value) {
        return None;
    }
    let (_, name) = others.first()?;
    let contact = net
        .points()
        .find(|(m, point)| {
            matches!(point.role(), Some(Role::ContactOpen | Role::ContactCommon))
                && !net.is_wired(*m)
        })
        .map_or("…", |(_, point)| point.name.as_str());
    let cable = job.model.cables.values().find(|cable| {
        let ends = [cable.from.value.as_str(), cable.to.value.as_str()];
        ends.contains(&unit)
            && contact
                .split_once('.')
                .is_some_and(|(relay, _)| ends.contains(&relay))
    });
    let (help, edit) = wire_to_add(job, cable, contact, name);
    let mut finding = Finding::new(
        &RULE.kind,
        head,
        format!("nothing is joined to `{name}`, the other side of the call of `{unit}`"),
        help,
    )
    .measured(
        Shown::word("no wire"),
        Relation::Equal,
        Shown::word(contact),
    );
    if let Some((after, words)) = edit {
        finding = finding.edit(after, words);
    }
    Some(finding)
}

/// Whether the output or thermostat call for a terminal is joined to common, or the thermostat's to an output.
fn is_swallowed(net: &Netlist, n: usize, call: Call) -> bool {
    let unit = net.at(n).and_then(|point| point.unit());
    net.points().any(|(m, point)| {
        let Some((side, carried)) = point.call() else {
            return false;
        };
        let has = |wanted: &dyn Fn(&Point) -> bool| {
            net.members(net.net(m)).any(|(_, member)| wanted(member))
        };
        let common = has(&|member| member.role() == Some(Role::Common));
        let output = side == CallSide::Out
            && has(&|member| {
                member.unit() == unit && matches!(member.call(), Some((CallSide::Output, _)))
            });
        carried == call && side != CallSide::In && (common || output)
    })
}

fn check(job: &Job<'_>, report: &mut Report) {
    let net = job.wiring.net;
    // Without thermostat or cable the controls are not described yet.
    if net.flawed || job.model.cables.is_empty() || job.model.thermostats.is_empty() {
        return;
    }
    let lost = lost_calls(job, net);
    let faults = job.wiring.faults();
    for (n, point) in net.points() {
        let (Place::Terminal { head, .. }, Some((CallSide::In, call))) =
            (&point.place, point.call())
        else {
            continue;
        };
        let drives = net.drives(n);
        // A call that goes astray is reported where it goes; a straight one by its own rule.
        let astray = lost.iter().any(|lost| lost.call == call);
        // A call that is up for good, or meets another circuit, is reported as that; so is one joined to common.
        let other = faults
            .iter()
            .any(|fault| fault.at == n && matches!(fault.wrong, Wrong::AtRest | Wrong::Meets(_)));
        if other || is_swallowed(net, n, call) {
            continue;
        }
        let finding = match drives.iter().find(|drive| drive.driver != Driver::Power) {
            None if !drives.is_empty() || astray => None,
            None => not_driven(job, net, n, call, *head),
            Some(_)
                if drives
                    .iter()
                    .any(|drive| drive.call.is_some_and(|c| serves(c, call))) =>
            {
                open_loop(job, net, n, *head)
            }
            Some(drive) if drive.driver == Driver::Output => wrong_call(net, n, call, drive),
            Some(_) => None,
        };
        if let Some(finding) = finding {
            report.find(finding);
        }
    }
}
