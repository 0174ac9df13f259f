//! The pan is 3 in longer and 3 in wider than the unit.

use crate::quantity::{length_text, show_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN035",
        name: "pan_too_small",
        title: "pan too small for its unit",
        severity: Severity::Error,
        source: "IRC M1411.3.1; IMC 307.2.3",
        why: Why {
            checks: "The inside of a pan is at least 3 in larger than the unit above it in length and in width.",
            on_site: "Water that runs down the cabinet or drips from a fitting misses the pan.",
            fix: "Use a pan of the size named in the report.",
        },
    },
    example: Example {
        wrong: "pan p2 under ah { size 52 in x 31 in, depth 2 in, item \"31 x 54 in pan\", switch \"Test pan float switch\" }",
        right: "pan p2 under ah { size 54 in x 31 in, depth 2 in, item \"31 x 54 in pan\", switch \"Test pan float switch\" }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for pan in job.model.pans.values() {
        let Some((x, y)) = pan.size else { continue };
        let of = |what: &str| job.ledger.length(&format!("pan.{}.{what}", pan.name));
        let (Some(east), Some(north)) = (of("needed-east"), of("needed-north")) else {
            continue;
        };
        let good = format!(
            "size {} x {}",
            length_text(east.max(x.value)),
            length_text(north.max(y.value))
        );
        let unit = job.model.air_handlers.get(&pan.unit.value);
        // A unit that is turned the wrong way is reported where its trunk leaves it.
        let astray = job.model.trunks.values().any(|trunk| {
            trunk.misplaced
                && trunk.parent.is_none()
                && trunk.unit.as_ref() == Some(&pan.unit.value)
        });
        if astray {
            continue;
        }
        for (found, needed, way) in [(x, east, "east–west"), (y, north, "north–south")] {
            if found.value >= needed {
                continue;
            }
            let mut finding = Finding::new(
                &RULE.kind,
                found.span,
                format!(
                    "pan `{}` is too small {way} for unit `{}`",
                    pan.name, pan.unit.value
                ),
                format!("write `{good}`"),
            )
            .measured(
                show_length(found.value),
                Relation::AtLeast,
                show_length(needed),
            )
            .edit(found.span, length_text(needed));
            if let Some(unit) = unit {
                finding = finding.label(unit.sheet.size.span, "the size of the unit");
            }
            report.find(finding);
        }
    }
}
