//! A coil is reckoned with the water that really reaches it.

use crate::quantity::{Dimension, number_text, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD007",
        name: "coil_water_cooler",
        title: "water reaches the coil cooler than it asks for",
        severity: Severity::Warning,
        source: "heat balance of the pipes",
        why: Why {
            checks: "The `water` that the coil asks for against the boiler's water less what the pipes lose on the way, to 2 °F.",
            on_site: "The coil was chosen for 180 °F and gets 150: on the coldest day the house stays cool, and nobody finds anything broken.",
            fix: "Choose the coil for the water that the boiler makes, or set the boiler hotter where it may be.",
        },
    },
    example: Example {
        wrong: r#"water-coil wc on ah { model "Example medium water coil", water 180 F, flow 4 gpm, freeze-protection circulation }
boiler old { model "Test boiler", on first, center 28 ft, 10 ft, water 150 F }
water-pipe hot from old to wc { pipe "3/4 in copper L", up 9 ft }
water-pipe back from wc to old { pipe "3/4 in copper L", down 9 ft }"#,
        right: r#"water-coil wc on ah { model "Example medium water coil", water 150 F, flow 4 gpm, freeze-protection circulation }
boiler old { model "Test boiler", on first, center 28 ft, 10 ft, water 150 F }
water-pipe hot from old to wc { pipe "3/4 in copper L", up 9 ft }
water-pipe back from wc to old { pipe "3/4 in copper L", down 9 ft }"#,
    },
    check,
};

/// What may be lost before it counts, °F: readings of strapped-on thermometers differ by as much.
const LOST: f64 = 2.0;

fn check(job: &Job<'_>, report: &mut Report) {
    for coil in job.model.water.coils.values().filter(|coil| !coil.flawed) {
        let reaches = job
            .ledger
            .real(&format!("water-coil.{}.entering-water", coil.name));
        let boiler = job
            .model
            .water
            .loop_of(&coil.name)
            .and_then(|water| job.model.water.boiler_water(&water.boiler));
        let (Some(asked), Some(reaches), Some(boiler)) = (coil.water, reaches, boiler) else {
            continue;
        };
        let limit = job.limit(
            &RULE.kind,
            ("lost", Dimension::TemperatureDifference),
            Relation::AtMost,
            Limit::default_of(LOST, RULE.kind.source, Severity::Warning),
            report,
        );
        if asked.value - reaches <= limit.value {
            continue;
        }
        let (found, needed) = show_pair(reaches, asked.value, Dimension::Temperature);
        report.find(
            limit.mark(
                Finding::new(
                    &RULE.kind,
                    asked.span,
                    format!("water reaches coil `{}` cooler than it asks for", coil.name),
                    format!(
                        "write `water {} F`, and see whether the heat still suffices",
                        number_text(libm::floor(reaches), 0)
                    ),
                )
                .measured(found, Relation::AtLeast, needed)
                .label(boiler.span, "the boiler's water"),
            ),
        );
    }
}
