//! What runs on 24 V has its way back to the transformer.

use crate::catalog::{CallSide, Role};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::controls::{Point, needs_common};

use super::wire_to_add;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL005",
        name: "common_missing",
        title: "common conductor missing",
        severity: Severity::Error,
        source: "the equipment's catalog",
        why: Why {
            checks: "A thermostat fed through the common conductor, and a unit that takes its call from the air handler's transformer, are joined to the common of a transformer.",
            on_site: "The thermostat goes dark, or the contactor of the outdoor unit never pulls in although the call arrives.",
            fix: "Wire the common terminal to the air handler's common.",
        },
    },
    example: Example {
        wrong: "cable ou-cable from ah to ou { type \"18/2\", wire red from ah.YO to ou.Y }",
        right: "cable ou-cable from ah to ou { type \"18/2\", wire red from ah.YO to ou.Y, wire white from ah.C to ou.C }",
    },
    check,
};

/// Whether equipment brings a transformer of its own.
pub(super) fn feeds_itself(job: &Job<'_>, model: &str) -> bool {
    let boiler = job
        .catalog
        .boilers
        .get(model)
        .map(|sheet| &sheet.own_transformer);
    let chiller = job
        .catalog
        .chillers
        .get(model)
        .map(|sheet| &sheet.own_transformer);
    boiler
        .or(chiller)
        .is_some_and(|own| own.get() == Some(true))
}

fn check(job: &Job<'_>, report: &mut Report) {
    let net = job.wiring.net;
    if net.flawed {
        return;
    }
    let supply = |n: usize| {
        net.members(net.net(n)).any(|(m, point)| {
            m != n && point.role() == Some(Role::Common) && point.kind() == "air-handler"
        })
    };
    let home = net
        .points()
        .find(|(_, point)| point.role() == Some(Role::Common) && point.kind() == "air-handler")
        .map(|(_, point)| point.name.clone());
    let Some(home) = home else { return };
    let circuit = &job.wiring.circuit;
    let mended: Vec<usize> = job
        .wiring
        .faults()
        .iter()
        .filter_map(|fault| circuit.mend(fault))
        .map(|mend| mend.to)
        .collect();
    // A coil that shares its voltage with another load is reported with the voltages.
    let astray = circuit.coils_astray(job.wiring.strays(job.model, job.catalog));
    for unit in job.model.equipment.values() {
        let own: Vec<usize> = net
            .points()
            .filter(|(_, point)| point.unit() == Some(&unit.name))
            .map(|(n, _)| n)
            .collect();
        let of = |wanted: &dyn Fn(usize) -> bool| own.iter().copied().find(|n| wanted(*n));
        let role = |n: usize| net.at(n).and_then(Point::role);
        let called = of(&|n| {
            net.at(n)
                .is_some_and(|point| matches!(point.call(), Some((CallSide::In, _))))
                && net.is_wired(n)
        });
        let wired = own.iter().any(|n| net.is_wired(*n));
        let needs = if unit.kind == "thermostat" {
            wired && needs_common(job.model, job.catalog, &unit.name)
        } else {
            let itself = unit
                .model
                .as_ref()
                .is_some_and(|model| feeds_itself(job, &model.value));
            called.is_some() && !itself && unit.kind != "relay"
        };
        let coil: Vec<usize> = own
            .iter()
            .copied()
            .filter(|n| role(*n) == Some(Role::Coil))
            .collect();
        let common = match coil.as_slice() {
            // Of a coil one end takes the call and the other goes back; either may be either.
            [one, other] if wired => {
                if supply(*one) || supply(*other) {
                    None
                } else {
                    let idle = |n: &&usize| net.drives(**n).is_empty();
                    coil.iter().rev().find(idle).or(coil.last()).copied()
                }
            }
            _ => of(&|n| role(n) == Some(Role::Common)).filter(|_| needs),
        };
        let Some(common) = common else { continue };
        // A wire that went to another circuit instead is reported as that.
        if coil.contains(&common) && (mended.contains(&common) || astray.contains(&common)) {
            continue;
        }
        // Common on power is reported as that.
        let crossed = net
            .members(net.net(common))
            .any(|(_, point)| matches!(point.role(), Some(Role::Power | Role::PowerIn)));
        if supply(common) || crossed {
            continue;
        }
        let name = net.at(common).map_or("", |point| point.name.as_str());
        let handler = home.split_once('.').map_or("", |(handler, _)| handler);
        let cable = job.model.cables.values().find(|cable| {
            let ends = [cable.from.value.as_str(), cable.to.value.as_str()];
            ends.contains(&unit.name.as_str()) && ends.contains(&handler)
        });
        let (help, edit) = wire_to_add(job, cable, &home, name);
        // What it is wired to instead, so that no one looks for an empty screw.
        let far = net
            .members(net.net(common))
            .find(|(n, point)| *n != common && point.unit().is_some());
        let found = far.map_or("no wire", |(_, point)| point.name.as_str());
        let mut finding = Finding::new(
            &RULE.kind,
            unit.span,
            format!("`{name}` is not joined to the common of a transformer"),
            help,
        )
        .measured(
            Shown::word(found),
            Relation::Equal,
            Shown::word(home.clone()),
        );
        if let Some((after, words)) = edit {
            finding = finding.edit(after, words);
        }
        report.find(finding);
    }
}
