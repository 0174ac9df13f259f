//! A unit runs on its own call and on no other.

use crate::catalog::Call;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Kind, Severity, Why};
use crate::systems::controls::Wrong;

use super::asked;
use super::told::{finding, told};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL018",
        name: "called_by_other",
        title: "unit called by a call that is not its own",
        severity: Severity::Error,
        source: "the equipment's catalog; the wiring run for every call",
        why: Why {
            checks: "At each call of each thermostat only those call terminals are fed that take it: no heat on a call for cooling or for the fan, no cooling on a call for heat.",
            on_site: "The boiler fires on the hottest day, and heat and cooling work against each other.",
            fix: "Land the wire on the terminal named in the report.",
        },
    },
    example: Example {
        wrong: "relay r2 { model \"Test relay\", on ah }\nboiler b2 { model \"Test boiler\", on first, center 24 ft, 10 ft }\ncable r2-cable from ah to r2 { type \"18/8\", wire red from ah.WO to r2.A1, wire white from ah.C to r2.A2 }\nrelay r3 { model \"Test relay\", on ah }\ncable r3-cable from ah to r3 { type \"18/2\", wire red from ah.YO to r3.A1, wire white from ah.C to r3.A2 }\ncable b2-cable from r2 to b2 { type \"18/2\", wire red from r2.COM to b2.TT1, wire white from r2.NO to b2.TT2 }\ncable b3-cable from r3 to b2 { type \"18/2\", wire red from r3.COM to b2.TT1, wire white from r3.NO to b2.TT2 }",
        right: "relay r2 { model \"Test relay\", on ah }\nboiler b2 { model \"Test boiler\", on first, center 24 ft, 10 ft }\ncable r2-cable from ah to r2 { type \"18/2\", wire red from ah.WO to r2.A1, wire white from ah.C to r2.A2 }\ncable b2-cable from r2 to b2 { type \"18/2\", wire red from r2.COM to b2.TT1, wire white from r2.NO to b2.TT2 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let net = job.wiring.net;
    // A heat pump runs on calls for heat and for cooling alike.
    let is_heat_pump = |n: usize| {
        let unit = net.at(n).and_then(|point| point.unit());
        net.points().any(|(_, point)| {
            point.unit() == unit && point.role() == Some(crate::catalog::Role::CallInReversing)
        })
    };
    for told in told(job, report) {
        let Wrong::Other(carried) = told.fault.wrong else {
            continue;
        };
        if told.fault.call != Call::Reversing && is_heat_pump(told.fault.at) {
            continue;
        }
        let name = net.at(told.fault.at).map_or("", |point| &point.name);
        let message = format!(
            "`{name}` takes the call for {} and is fed by that for {}",
            asked(told.fault.call),
            asked(carried)
        );
        let other = format!(
            "take out what feeds `{{at}}` on a call for {}",
            asked(carried)
        );
        if let Some(finding) = finding(&RULE.kind, net, &told, message, other) {
            report.find(finding);
        }
    }
}
