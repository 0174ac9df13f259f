//! Water is fast enough to take its air along.

use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD004",
        name: "water_too_slow",
        title: "water too slow to carry its air",
        severity: Severity::Warning,
        source: "common practice",
        why: Why {
            checks: "The speed of the water at the flow where the circulator's curve meets the loop, in the widest pipe: at least 2 ft/s.",
            on_site: "Bubbles stay in the pipe and gather in its high places; every start pushes them about with a noise.",
            fix: "Choose a smaller pipe, or a circulator that moves more.",
        },
    },
    example: Example {
        wrong: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "1 in copper L", up 9 ft }"#,
        right: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", up 9 ft }"#,
    },
    check,
};

/// Least speed, ft/s.
const LEAST: f64 = 2.0;

fn check(job: &Job<'_>, report: &mut Report) {
    for water in &job.model.water.loops {
        let speed = |name: &str| {
            job.ledger
                .real(&format!("water-pipe.{name}.velocity-least"))
        };
        let slowest = water
            .pipes()
            .into_iter()
            .filter_map(|name| Some((speed(name)?, job.model.water.pipes.get(name)?)))
            .fold(None, |least: Option<(f64, _)>, one| match least {
                Some(least) if least.0 <= one.0 => Some(least),
                _ => Some(one),
            });
        let Some((found, pipe)) = slowest else {
            continue;
        };
        let limit = job.limit(
            &RULE.kind,
            ("velocity", Dimension::WaterSpeed),
            Relation::AtLeast,
            Limit::default_of(LEAST, RULE.kind.source, Severity::Warning),
            report,
        );
        if found >= limit.value {
            continue;
        }
        let (shown, needed) = show_pair(found, limit.value, Dimension::WaterSpeed);
        report.find(
            limit.mark(
                Finding::new(
                    &RULE.kind,
                    pipe.pipe.as_ref().map_or(pipe.span, |named| named.span),
                    format!(
                        "water is too slow in water pipe `{}` to carry its air",
                        pipe.name
                    ),
                    "choose a smaller `pipe`, or a circulator that moves more",
                )
                .measured(shown, Relation::AtLeast, needed),
            ),
        );
    }
}
