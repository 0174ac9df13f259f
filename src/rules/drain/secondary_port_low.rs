//! The second drain leaves the pan higher than the first.

use crate::quantity::{Length, show_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN040",
        name: "secondary_port_low",
        title: "secondary port no higher than the primary",
        severity: Severity::Error,
        source: "IRC M1411.3.1",
        why: Why {
            checks: "The secondary port of a unit, where a drain is led from it, lies higher than the primary one as the unit stands.",
            on_site: "The secondary drain carries the water all day, and nothing shows when the primary is stopped.",
            fix: "Use the ports as the maker names them, or another unit.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        if drain.port_name() != "secondary-drain" {
            continue;
        }
        let Some(unit) = job.model.air_handlers.get(&drain.unit) else {
            continue;
        };
        let (Some(first), Some(second)) = (unit.port("drain"), unit.port("secondary-drain")) else {
            continue;
        };
        let above = second.point.z - first.point.z;
        if above > Length::ZERO {
            continue;
        }
        report.find(
            Finding::new(
                &RULE.kind,
                drain.port.span,
                format!(
                    "the secondary port of `{}` lies no higher than its primary one",
                    unit.name
                ),
                "lead the second drain from a port that lies higher",
            )
            .measured(
                show_length(above),
                Relation::AtLeast,
                show_length(Length::sixteenths(1)),
            )
            .label(second.span, "the secondary port")
            .label(first.span, "the primary port"),
        );
    }
}
