//! The two terminals of a safety are joined through its switch, and by nothing else.

use crate::catalog::{Role, Stated};
use crate::model::AirHandler;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::controls::Netlist;

use super::{from_to, last_words};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL014",
        name: "safety_loop_open",
        title: "safety terminals not closed by a switch",
        severity: Severity::Error,
        source: "the equipment's catalog; IMC 307.2.3.1 for the water switch",
        why: Why {
            checks: "Where anything is wired to the terminals of a safety, such as those of the float switch, both are joined through a switch and to nothing else: neither left open, nor bridged by a wire, nor joined to power, common or a call.",
            on_site: "Left open, the unit never cools; bridged, the pan runs over while the compressor runs on.",
            fix: "Land one lead of the switch on each of the two terminals.",
        },
    },
    example: Example {
        wrong: "switch float { model \"Test pan float switch\" }\ncable float-leads from float to ah { type \"18/2\", wire red from float.S1 to ah.F1, wire white from float.S2 to ah.C }",
        right: "switch float { model \"Test pan float switch\" }\ncable float-leads from float to ah { type \"18/2\", wire red from float.S1 to ah.F1, wire white from float.S2 to ah.F2 }",
    },
    check,
};

/// Both terminals on one lead of the switch: its other lead stands free, and the switch switches nothing.
fn one_lead(
    net: &Netlist,
    unit: &AirHandler,
    safety: &str,
    path: &[usize],
    both: &str,
) -> Option<Finding> {
    let lead = path.iter().copied().find(|n| {
        net.at(*n)
            .is_some_and(|point| matches!(point.kind(), "switch" | "pump"))
    })?;
    let (_, free) = net.points().find(|(n, point)| {
        *n != lead
            && point.unit() == net.at(lead).and_then(|lead| lead.unit())
            && point.role() == Some(Role::Switch)
            && !net.joins_of(*n).any(|join| join.words.is_some())
    })?;
    let before = path.windows(2).find(|pair| pair.last() == Some(&lead))?;
    let span = net.words_between(*before.first()?, lead)?;
    Some(
        Finding::new(
            &RULE.kind,
            span,
            format!(
                "{both} of `{}` are bridged at one lead of the switch: the {safety} can stop nothing",
                unit.name
            ),
            format!("land it on `{}`", free.name),
        )
        .measured(
            Shown::word(net.path_words(path)),
            Relation::Equal,
            Shown::word("through a switch"),
        )
        .edit(span, free.name.clone()),
    )
}

/// A switch that stands between both terminals and conducts only when the water has risen.
fn rests_open(
    job: &Job<'_>,
    net: &Netlist,
    unit: &AirHandler,
    safety: &str,
    [one, other]: [usize; 2],
) -> Option<Finding> {
    let lead = |end: usize| {
        net.members(net.net(end))
            .find(|(_, point)| matches!(point.kind(), "switch" | "pump"))
            .and_then(|(_, point)| point.unit())
    };
    let name = lead(one).filter(|name| lead(other) == Some(name))?;
    let switch = job.model.equipment.get(name)?;
    Some(
        Finding::new(
            &RULE.kind,
            switch.span,
            format!(
                "`{name}` closes as the water rises, and the {safety} of `{}` needs one that opens",
                unit.name
            ),
            format!(
                "choose a switch that opens on rise for `{name}`, or let it pull in a relay whose closed contact stands between the two terminals"
            ),
        )
        .measured(
            Shown::word("closes on rise"),
            Relation::Equal,
            Shown::word("opens on rise"),
        ),
    )
}

/// A loop through its switch that something live is joined to as well.
fn joined_to_live(net: &Netlist, unit: &AirHandler, safety: &str, one: usize) -> Option<Finding> {
    let (n, live) = net.members(net.net(one)).find(|(_, point)| {
        let rail = matches!(
            point.role(),
            Some(Role::Power | Role::PowerIn | Role::Common | Role::Coil)
        );
        rail || point.call().is_some()
    })?;
    Some(
        Finding::new(
            &RULE.kind,
            last_words(net, n, one)?,
            format!(
                "the loop of the {safety} of `{}` is joined to `{}`",
                unit.name, live.name
            ),
            format!(
                "take out the wire to `{}`, or land it where it belongs",
                live.name
            ),
        )
        .measured(
            Shown::word(from_to(net, n, one)),
            Relation::Equal,
            Shown::word("through a switch"),
        ),
    )
}

fn loop_of(
    job: &Job<'_>,
    net: &Netlist,
    unit: &AirHandler,
    safety: &str,
    ends: [usize; 2],
) -> Option<Finding> {
    let [one, other] = ends;
    let (first, second) = (net.at(one)?, net.at(other)?);
    let both = format!("`{}` and `{}`", first.name, second.name);
    let switch = |n: &usize| {
        net.at(*n)
            .is_some_and(|point| matches!(point.kind(), "switch" | "pump"))
    };
    if net.net(one) == net.net(other) {
        let path = net.path(one, other)?;
        // Through a switch the way goes in by one lead and out by the other.
        let through = path.windows(2).any(|pair| pair.iter().all(switch));
        if through {
            return joined_to_live(net, unit, safety, one);
        }
        if let Some(finding) = one_lead(net, unit, safety, &path, &both) {
            return Some(finding);
        }
        return Some(
            Finding::new(
                &RULE.kind,
                last_words(net, one, other)?,
                format!(
                    "{both} of `{unit}` are bridged: the {safety} can stop nothing",
                    unit = unit.name
                ),
                "take the wire out and land the leads of the switch on the two terminals",
            )
            .measured(
                Shown::word(from_to(net, one, other)),
                Relation::Equal,
                Shown::word("through a switch"),
            ),
        );
    }
    if let Some(finding) = rests_open(job, net, unit, safety, ends) {
        return Some(finding);
    }
    // A contact of a relay may stand in for the switch.
    let relay = net.points().any(|(n, point)| {
        let contact = matches!(
            point.role(),
            Some(Role::ContactCommon | Role::ContactOpen | Role::ContactClosed)
        );
        contact && (net.net(n) == net.net(one) || net.net(n) == net.net(other))
    });
    if relay {
        return None;
    }
    let wired = if net.is_wired(one) { one } else { other };
    let (free, free_name) = if net.is_wired(one) && net.is_wired(other) {
        (None, "")
    } else if wired == one {
        (Some(other), second.name.as_str())
    } else {
        (Some(one), first.name.as_str())
    };
    let astray = net
        .members(net.net(wired))
        .find(|(n, point)| *n != wired && point.unit().is_some() && !switch(n))
        .map(|(n, point)| (n, point.name.clone()));
    let span = match &astray {
        Some((n, _)) => last_words(net, wired, *n),
        None => net.joins_of(wired).find_map(|join| join.words),
    };
    let found = astray.as_ref().map_or("open", |(_, name)| name.as_str());
    let help = match free {
        Some(_) => format!("land the other lead of the switch on `{free_name}`"),
        None => format!("land one lead of the switch on each of {both}"),
    };
    let mut finding = Finding::new(
        &RULE.kind,
        span.or_else(|| job.model.air_handlers.get(&unit.name).map(|unit| unit.span))?,
        format!(
            "the {safety} of `{}` is not closed between {both}",
            unit.name
        ),
        help,
    )
    .measured(
        Shown::word(found),
        Relation::Equal,
        Shown::word("through a switch"),
    );
    if let (Some(span), Some(_), Some(_)) = (span, &astray, free) {
        finding = finding.edit(span, free_name);
    }
    Some(finding)
}

fn check(job: &Job<'_>, report: &mut Report) {
    let net = job.wiring.net;
    if net.flawed {
        return;
    }
    for unit in job.model.air_handlers.values() {
        for (name, safety) in unit.sheet.safeties.iter() {
            let numbers: Vec<usize> = safety
                .terminals
                .iter()
                .flatten()
                .filter_map(Stated::get)
                .filter_map(|terminal| {
                    let wanted = format!("{}.{terminal}", unit.name);
                    net.points()
                        .find(|(_, point)| point.name == wanted)
                        .map(|(n, _)| n)
                })
                .collect();
            let [one, other] = numbers.as_slice() else {
                continue;
            };
            if !net.is_wired(*one) && !net.is_wired(*other) {
                continue;
            }
            if let Some(finding) = loop_of(job, net, unit, name, [*one, *other]) {
                report.find(finding.label(safety.span, "the safety in the catalog"));
            }
        }
    }
}
