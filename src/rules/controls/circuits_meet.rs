//! The call of a unit with its own transformer is closed by a contact that touches no other circuit.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Kind, Severity, Why};
use crate::systems::controls::Wrong;

use super::told::{finding, told};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL016",
        name: "circuits_meet",
        title: "circuits of two transformers that meet",
        severity: Severity::Error,
        source: "the equipment's catalog; the wiring run for every call",
        why: Why {
            checks: "At no call do the thermostat terminals of a unit with a transformer of its own conduct to a terminal of an air handler: the coil of the relay between them stands on the one circuit, its contact on the other.",
            on_site: "Two transformers work against each other through a thin wire: one of them burns, or the boiler fires on a fault of the other unit.",
            fix: "Land the coil on the calling unit's output and common, the contact alone on the called unit.",
        },
    },
    example: Example {
        wrong: "relay r2 { model \"Test relay\", on ah }\nboiler b2 { model \"Test boiler\", on first, center 24 ft, 10 ft }\ncable r2-cable from ah to r2 { type \"18/2\", wire red from ah.WO to r2.A1, wire white from ah.C to r2.A2 }\ncable b2-cable from r2 to b2 { type \"18/2\", wire red from r2.A1 to b2.TT1, wire white from r2.NO to b2.TT2 }",
        right: "relay r2 { model \"Test relay\", on ah }\nboiler b2 { model \"Test boiler\", on first, center 24 ft, 10 ft }\ncable r2-cable from ah to r2 { type \"18/2\", wire red from ah.WO to r2.A1, wire white from ah.C to r2.A2 }\ncable b2-cable from r2 to b2 { type \"18/2\", wire red from r2.COM to b2.TT1, wire white from r2.NO to b2.TT2 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let net = job.wiring.net;
    for told in told(job, report) {
        let Wrong::Meets(foreign) = told.fault.wrong else {
            continue;
        };
        let name = |n: usize| net.at(n).map_or("", |point| point.name.as_str());
        let unit = net
            .at(told.fault.at)
            .and_then(|point| point.unit())
            .unwrap_or("");
        let message = format!(
            "the call of `{unit}`, which has a transformer of its own, meets `{}`",
            name(foreign)
        );
        let other = format!(
            "put a relay between the two transformers: its coil on `{}`, its contact alone on `{{at}}`",
            name(foreign)
        );
        if let Some(finding) = finding(&RULE.kind, net, &told, message, other) {
            report.find(finding);
        }
    }
}
