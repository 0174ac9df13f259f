//! A thermostat calls its own system and no other.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::controls::Breach;

use super::proved::{breaches, is_told, place_of};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL021",
        name: "called_by_other_unit",
        title: "unit called by the thermostat of another",
        severity: Severity::Error,
        source: "the line sets and cables of the job; the wiring run for every call",
        why: Why {
            checks: "Where a job has several air handlers, an outdoor unit, boiler or circulator is fed only while a thermostat of the air handlers that it belongs to calls. What belongs together is told by the line sets and by the ends of the cables.",
            on_site: "Upstairs calls and the compressor of downstairs starts: a coil without air freezes, and the floor that called stays warm.",
            fix: "Land the wire on the same terminal of the other unit.",
        },
    },
    example: Example {
        wrong: "air-handler ah2 { model \"Test 3-ton, flat\", on attic, center 20 ft, 6 ft, discharge toward east }\noutdoor-unit ou2 { model \"Test 3-ton outdoor\", at 36 ft, 14 ft, pad 4 in }\ncable ou2-cable from ah2 to ou2 { type \"18/2\", wire red from ah.YO to ou2.Y, wire white from ah.C to ou2.C }",
        right: "air-handler ah2 { model \"Test 3-ton, flat\", on attic, center 20 ft, 6 ft, discharge toward east }\noutdoor-unit ou2 { model \"Test 3-ton outdoor\", at 36 ft, 14 ft, pad 4 in }\ncable ou2-cable from ah2 to ou2 { type \"18/2\", wire red from ah2.YO to ou2.Y, wire white from ah2.C to ou2.C }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let (net, circuit) = (job.wiring.net, &job.wiring.circuit);
    for breach in breaches(job) {
        let Breach::OtherUnit { load, case } = breach else {
            continue;
        };
        let Some(at) = circuit.loads().get(*load) else {
            continue;
        };
        if is_told(job, report, at.at, &[]) {
            continue;
        }
        let name = net.at(at.at).map_or("", |point| point.name.as_str());
        let way = circuit.feeding(*load, case, None).unwrap_or_default();
        let Some(span) = place_of(net, at.at) else {
            continue;
        };
        report.find(
            Finding::new(
                &RULE.kind,
                span,
                format!(
                    "{} and `{name}` is fed, which belongs to another air handler",
                    circuit.case_words(case)
                ),
                format!(
                    "land its wire on its own air handler; now: {}",
                    net.path_words(&way)
                ),
            )
            .measured(Shown::word("fed"), Relation::Equal, Shown::word("not fed")),
        );
    }
}
