//! The unit stays above the rim of its pan.

use crate::quantity::{Length, length_text, show_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN042",
        name: "unit_below_rim",
        title: "unit that stands in its pan's water",
        severity: Severity::Error,
        source: "IRC M1411.3.4",
        why: Why {
            checks: "The underside of the unit, with its insulation, lies above the flood rim of the pan under it.",
            on_site: "The insulation soaks, the cabinet rusts through from below, and the pan holds no more than what it wets.",
            fix: "Set the unit on feet that lift it over the rim.",
        },
    },
    example: Example {
        wrong: "air-handler low { model \"Test 3-ton, flat\", on attic, center 20 ft, 6 ft, discharge toward east, stand 1 in, tap 4 }\npan p3 under low { size 54 in x 31 in, depth 2 in, switch \"Test pan float switch\" }",
        right: "air-handler low { model \"Test 3-ton, flat\", on attic, center 20 ft, 6 ft, discharge toward east, stand 10 in, tap 4 }\npan p3 under low { size 54 in x 31 in, depth 2 in, switch \"Test pan float switch\" }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for pan in job.model.pans.values() {
        let of = |what: &str| job.ledger.length(&format!("pan.{}.{what}", pan.name));
        let (Some(above), Some(unit)) = (
            of("unit-above-rim"),
            job.model.air_handlers.get(&pan.unit.value),
        ) else {
            continue;
        };
        // What does not leave room for the trap asks for a higher stand than the rim does, and is reported as that.
        let trap_short = job.model.drains.values().any(|drain| {
            let of = |what: &str| job.ledger.length(&format!("drain.{}.{what}", drain.name));
            drain.unit == unit.name && of("trap-height") < of("trap-height-needed")
        });
        if above > Length::ZERO || trap_short {
            continue;
        }
        let least = Length::sixteenths(4);
        let stand = unit.stand.map_or(Length::ZERO, |stand| stand.value) - above + least;
        let good = length_text(stand.round_up_to(least));
        let mut finding = Finding::new(
            &RULE.kind,
            pan.span,
            format!(
                "unit `{}` stands no higher than the rim of pan `{}`",
                unit.name, pan.name
            ),
            format!("set the unit higher: `stand {good}`"),
        )
        .measured(show_length(above), Relation::AtLeast, show_length(least));
        finding = match unit.stand {
            Some(height) => finding
                .label(height.span, "the height of the unit")
                .edit(height.span, good),
            None => finding.label(unit.span, "the unit stands on its floor"),
        };
        report.find(finding);
    }
}
