//! Under pressure the seal is as deep as the pressure is high.

use crate::quantity::{Length, length_text, show_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN023",
        name: "pressure_seal_short",
        title: "trap that the blower blows out",
        severity: Severity::Error,
        source: "level balance of the trap under the pressure at the pan",
        why: Why {
            checks: "Where the blower presses through the coil, the dip of the trap lies below its weir by at least the pressure at the pan, as a height of water.",
            on_site: "The starting blower blows the trap empty: cold air whistles out of the drain all summer and sweats on the pipe.",
            fix: "Make the trap deeper: the pressure + 1 in.",
        },
    },
    example: Example {
        wrong: "air-handler ah3 { model \"Test 3-ton, flat\", on attic, center 20 ft, 6 ft, discharge toward east, stand 10 in, tap 4, pan-pressure 2 inwc }\ndrain d from ah3.drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", south 4 in, cleanout, trap drop 1/2 in, seal 1 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "air-handler ah3 { model \"Test 3-ton, flat\", on attic, center 20 ft, 6 ft, discharge toward east, stand 10 in, tap 4, pan-pressure 2 inwc }\ndrain d from ah3.drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", south 4 in, cleanout, trap drop 1/2 in, seal 3 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let Some((_, _, seal)) = drain.traps().next() else {
            continue;
        };
        let of = |what: &str| job.ledger.length(&format!("drain.{}.{what}", drain.name));
        let (Some(least), true) = (of("seal-least"), super::under_pressure(job, drain)) else {
            continue;
        };
        if seal.value >= least {
            continue;
        }
        let good = of("seal-practice").unwrap_or(least);
        let mut finding = Finding::new(
            &RULE.kind,
            seal.span,
            format!("the blower blows the trap of drain `{}` empty", drain.name),
            format!("make the trap deeper: `seal {}`", length_text(good)),
        )
        .measured(
            show_length(seal.value),
            Relation::AtLeast,
            show_length(least.round_up_to(Length::sixteenths(1))),
        )
        .edit(seal.span, length_text(good));
        let unit = job.model.air_handlers.get(&drain.unit);
        if let Some(pressure) = unit.and_then(|unit| unit.pressure) {
            finding = finding.label(pressure.span, "pressure at the pan");
        }
        report.find(finding);
    }
}
