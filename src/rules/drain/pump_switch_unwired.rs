//! The overflow switch of a pump is wired, so that a stopped pump stops the unit.

use crate::catalog::{Role, SafetyType, Stated};
use crate::model::Stage;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::drain::lived_in;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN032",
        name: "pump_switch_unwired",
        title: "pump whose overflow switch stops nothing",
        severity: Severity::Error,
        source: "IRC M1411.4; IMC 307.3",
        why: Why {
            checks: "Once control wiring is drawn, both terminals of a pump's overflow switch are wired. In an attic, a crawl space or another place where nobody lives this is the code; in a lived-in place it is common practice and a warning.",
            on_site: "The pump fails on a Saturday, and the coil makes water until Monday.",
            fix: "Wire the switch of the pump into the float-switch terminals of the unit, in line with any other.",
        },
    },
    example: Example {
        wrong: "pump lift2 { model \"Example condensate pump\", on first, center 8 ft, 4 ft, lift 6 ft, pipe \"3/8 in vinyl tube\", measured 12 ft, check-valve, discharge to laundry-sink, air gap 2 in }",
        right: "pump lift2 { model \"Example condensate pump\", on first, center 8 ft, 4 ft, lift 6 ft, pipe \"3/8 in vinyl tube\", measured 12 ft, check-valve, discharge to laundry-sink, air gap 2 in }\ncable pump-cable from lift2 to pan-float { type \"18/2\", wire red from lift2.P1 to pan-float.S1, wire white from lift2.P2 to pan-float.S2 }",
    },
    check,
};

/// Whether the float-switch terminals of a unit are wired and not joined: that is reported as an open loop, and a
/// pump's loose lead is most often why.
fn float_loop_open(job: &Job<'_>) -> bool {
    let net = job.wiring.net;
    let number = |name: &str| {
        net.points()
            .find(|(_, point)| point.name == name)
            .map(|(n, _)| n)
    };
    job.model.air_handlers.values().any(|unit| {
        unit.sheet.safeties.values().any(|safety| {
            let ends: Vec<usize> = safety
                .terminals
                .iter()
                .flatten()
                .filter_map(Stated::get)
                .filter_map(|terminal| number(&format!("{}.{terminal}", unit.name)))
                .collect();
            let float = safety.type_of.get() == Some(SafetyType::Float);
            matches!(ends.as_slice(), [one, other] if float
                && (net.is_wired(*one) || net.is_wired(*other))
                && net.net(*one) != net.net(*other))
        })
    })
}

fn check(job: &Job<'_>, report: &mut Report) {
    if job.model.pumps.is_empty()
        || job.model.cables.is_empty()
        || job.model.job.stage < Stage::Order
    {
        return;
    }
    let net = job.wiring.net;
    if net.flawed {
        return;
    }
    if float_loop_open(job) {
        return;
    }
    for pump in job.model.pumps.values().filter(|pump| !pump.flawed) {
        let terminals: Vec<_> = net
            .points()
            .filter(|(_, point)| point.unit() == Some(pump.name.as_str()))
            .filter(|(_, point)| point.role() == Some(Role::Switch))
            .collect();
        let loose: Vec<&str> = terminals
            .iter()
            .filter(|(n, _)| !net.joins_of(*n).any(|join| join.words.is_some()))
            .map(|(_, point)| point.name.as_str())
            .collect();
        let Some(first) = loose.first() else { continue };
        let inhabited = pump.point.is_some_and(|point| lived_in(job.model, point));
        let mut finding = Finding::new(
            &RULE.kind,
            pump.span,
            format!("the overflow switch of pump `{}` is not wired", pump.name),
            format!(
                "wire `{first}` and its other terminal into the float-switch terminals of the unit"
            ),
        )
        .measured(
            Shown::word(format!(
                "{} of {} wired",
                terminals.len() - loose.len(),
                terminals.len()
            )),
            Relation::Equal,
            Shown::word(format!("{} of {} wired", terminals.len(), terminals.len())),
        );
        if inhabited {
            finding = finding
                .severity(Severity::Warning)
                .source("common practice");
        }
        report.find(finding);
    }
}
