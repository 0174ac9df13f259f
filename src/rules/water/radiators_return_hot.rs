//! The water of old radiators comes back cooler than it goes out.

use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD028",
        name: "radiators_return_hot",
        title: "radiators whose water comes back no cooler",
        severity: Severity::Error,
        source: "heat balance of the water",
        why: Why {
            checks: "Water that gives heat in radiators comes back at least a degree cooler than it leaves the boiler.",
            on_site: "Nothing breaks, but no flow follows from the heat, and what comes back to the boiler is judged without the radiators.",
            fix: "Measure both pipes with the boiler at its winter temperature, and write what comes back.",
        },
    },
    example: Example {
        wrong: r#"radiators old-loop on heater { room hall gives 600 Btu/h, returns 185 F }
water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, up 9 ft, flow-check }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }"#,
        right: r#"radiators old-loop on heater { room hall gives 600 Btu/h, returns 140 F }
water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, up 9 ft, flow-check }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }"#,
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let water = &job.model.water;
    for radiators in water.radiators.values().filter(|one| !one.flawed) {
        let hot = water.boiler_water(&radiators.boiler.value);
        let (Some(hot), Some(back)) = (hot, radiators.returns) else {
            continue;
        };
        if back.value <= hot.value - 1.0 {
            continue;
        }
        let (found, needed) = show_pair(back.value, hot.value - 1.0, Dimension::Temperature);
        report.find(
            Finding::new(
                &RULE.kind,
                back.span,
                format!(
                    "the water of radiators `{}` comes back no cooler than it leaves boiler `{}`",
                    radiators.name, radiators.boiler.value
                ),
                "write the temperature of the pipe that comes back, with the boiler at its winter temperature",
            )
            .measured(found, Relation::AtMost, needed)
            .label(hot.span, "the water that leaves the boiler"),
        );
    }
}
