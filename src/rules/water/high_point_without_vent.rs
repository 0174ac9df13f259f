//! Where a loop is highest, air can be let out.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::water::high_points;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD002",
        name: "high_point_without_vent",
        title: "high point of hot-water pipe without a vent",
        severity: Severity::Error,
        source: "common practice",
        why: Why {
            checks: "Every stretch of a loop that lies higher than what comes before and behind it has a vent: on the pipe, or the coil's own.",
            on_site: "Air gathers at the high point and stops the water; the coil goes cold, the pump hums, and somebody comes back to bleed what cannot be bled.",
            fix: "Set a vent at the high point, or lead the pipe so that it rises to one that has a vent.",
        },
    },
    example: Example {
        wrong: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", up 12 ft, west 4 ft, down 3 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }"#,
        right: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", up 12 ft, vent, west 4 ft, down 3 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }"#,
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let flawed = |name: &&str| {
        job.model
            .water
            .pipes
            .get(*name)
            .is_some_and(|pipe| pipe.flawed)
    };
    for water in &job.model.water.loops {
        if water.pipes().iter().any(flawed) {
            continue;
        }
        for point in high_points(job.model, job.catalog, water) {
            if point.vented {
                continue;
            }
            let what = match (&point.coil, &point.pipe) {
                (Some(coil), _) => format!("the top of coil `{coil}`"),
                (None, Some(pipe)) => format!("the top of water pipe `{pipe}`"),
                (None, None) => format!("the top of loop `{}`", water.name),
            };
            report.find(
                Finding::new(
                    &RULE.kind,
                    point.span,
                    format!("{what} is a high point without a vent"),
                    "write `vent` behind the leg that ends there",
                )
                .measured(Shown::count(0), Relation::AtLeast, Shown::count(1)),
            );
        }
    }
}
