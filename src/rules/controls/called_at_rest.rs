//! While no thermostat calls, nothing is called.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Kind, Severity, Why};
use crate::systems::controls::Wrong;

use super::asked;
use super::told::{finding, told};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL015",
        name: "called_at_rest",
        title: "unit called while no thermostat calls",
        severity: Severity::Error,
        source: "the equipment's catalog; the wiring run with every thermostat satisfied",
        why: Why {
            checks: "With every thermostat satisfied and the safeties at rest no call terminal is fed: no contact that rests closed, no bridge and no relay that stays pulled in calls for anything.",
            on_site: "The boiler fires whenever the house is warm enough, and stops when somebody is cold.",
            fix: "Use the contact that rests open, or take out what bridges the call.",
        },
    },
    example: Example {
        wrong: "relay r2 { model \"Test relay\", on ah }\nboiler b2 { model \"Test boiler\", on first, center 24 ft, 10 ft }\ncable r2-cable from ah to r2 { type \"18/2\", wire red from ah.WO to r2.A1, wire white from ah.C to r2.A2 }\ncable b2-cable from r2 to b2 { type \"18/2\", wire red from r2.COM to b2.TT1, wire white from r2.NC to b2.TT2 }",
        right: "relay r2 { model \"Test relay\", on ah }\nboiler b2 { model \"Test boiler\", on first, center 24 ft, 10 ft }\ncable r2-cable from ah to r2 { type \"18/2\", wire red from ah.WO to r2.A1, wire white from ah.C to r2.A2 }\ncable b2-cable from r2 to b2 { type \"18/2\", wire red from r2.COM to b2.TT1, wire white from r2.NO to b2.TT2 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let net = job.wiring.net;
    for told in told(job, report) {
        if told.fault.wrong != Wrong::AtRest {
            continue;
        }
        let name = net.at(told.fault.at).map_or("", |point| &point.name);
        let message = format!(
            "`{name}` is called for {} while no thermostat calls",
            asked(told.fault.call)
        );
        let other =
            "take out the wire or contact that closes the call of `{at}` for good".to_owned();
        if let Some(finding) = finding(&RULE.kind, net, &told, message, other) {
            report.find(finding);
        }
    }
}
