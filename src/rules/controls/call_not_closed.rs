//! A call that is up closes its circuit on both sides.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Kind, Severity, Why};
use crate::systems::controls::{Wrong, handlers_of};

use super::asked;
use super::told::{finding, told};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL017",
        name: "call_not_closed",
        title: "call whose circuit stays open",
        severity: Severity::Error,
        source: "the equipment's catalog; the wiring run for every call",
        why: Why {
            checks: "When a thermostat's call reaches the output or contact that is to drive a unit, current flows through the unit's call terminal and back to the same transformer.",
            on_site: "Every wire has a call on it and the unit does not start: the two ends stand on contacts that never close to each other.",
            fix: "Land the wire on the terminal named in the report.",
        },
    },
    example: Example {
        wrong: "relay r2 { model \"Test relay\", on ah }\nboiler b2 { model \"Test boiler\", on first, center 24 ft, 10 ft }\ncable r2-cable from ah to r2 { type \"18/2\", wire red from ah.WO to r2.A1, wire white from ah.C to r2.A2 }\ncable b2-cable from r2 to b2 { type \"18/2\", wire red from r2.NC to b2.TT1, wire white from r2.NO to b2.TT2 }",
        right: "relay r2 { model \"Test relay\", on ah }\nboiler b2 { model \"Test boiler\", on first, center 24 ft, 10 ft }\ncable r2-cable from ah to r2 { type \"18/2\", wire red from ah.WO to r2.A1, wire white from ah.C to r2.A2 }\ncable b2-cable from r2 to b2 { type \"18/2\", wire red from r2.COM to b2.TT1, wire white from r2.NO to b2.TT2 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let net = job.wiring.net;
    for told in told(job, report) {
        if told.fault.wrong != Wrong::NotClosed {
            continue;
        }
        // A wire that went to another unit's thermostat is told as that unit's lost call.
        let of = |name: &str| handlers_of(job.model, name);
        let own = net.at(told.fault.at).and_then(|point| point.unit());
        let caller = told.fault.state.thermostat.as_deref();
        if let (Some(own), Some(caller)) = (own, caller)
            && !of(own).iter().any(|unit| of(caller).contains(unit))
        {
            continue;
        }
        let name = net.at(told.fault.at).map_or("", |point| &point.name);
        let message = format!(
            "the call for {} is up and `{name}` is not fed",
            asked(told.fault.call)
        );
        let other = "follow both sides of `{at}` back to one transformer".to_owned();
        if let Some(finding) = finding(&RULE.kind, net, &told, message, other) {
            report.find(finding);
        }
    }
}
