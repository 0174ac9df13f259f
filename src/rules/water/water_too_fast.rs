//! Water is not so fast that it is heard and wears the pipe.

use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD003",
        name: "water_too_fast",
        title: "water too fast",
        severity: Severity::Warning,
        source: "common practice; IRC appendix P names 5 to 8 ft/s",
        why: Why {
            checks: "The speed of the water at the flow where the circulator's curve meets the loop, in the narrowest pipe: at most 4 ft/s, an error above 8.",
            on_site: "The pipe sings at night; beyond that the water takes the metal away behind every elbow.",
            fix: "Choose a larger pipe, or a smaller circulator.",
        },
    },
    example: Example {
        wrong: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "1/2 in copper L", up 9 ft }"#,
        right: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", up 9 ft }"#,
    },
    check,
};

/// Most speed, ft/s.
const MOST: f64 = 4.0;
/// Speed beyond which the metal goes, ft/s.
const WEARS: f64 = 8.0;

fn check(job: &Job<'_>, report: &mut Report) {
    // Two circulators in one pipe while another loop has none are told there.
    let rests = job.model.water.loops.iter().any(|water| {
        let state = format!("water-loop.{}.state", water.name);
        job.ledger.word(&state) == Some("no circulator")
    });
    let crowded = super::circulator_missing::crowded(&job.model.water)
        .filter(|_| rests)
        .map(|(_, _, pipe)| pipe);
    for water in &job.model.water.loops {
        let speed = |name: &str| job.ledger.real(&format!("water-pipe.{name}.velocity"));
        let fastest = water
            .pipes()
            .into_iter()
            .filter(|name| Some(*name) != crowded)
            .filter_map(|name| Some((speed(name)?, job.model.water.pipes.get(name)?)))
            .fold(None, |most: Option<(f64, _)>, one| match most {
                Some(most) if most.0 >= one.0 => Some(most),
                _ => Some(one),
            });
        let Some((found, pipe)) = fastest else {
            continue;
        };
        let limit = job.limit(
            &RULE.kind,
            ("velocity", Dimension::WaterSpeed),
            Relation::AtMost,
            Limit::default_of(MOST, RULE.kind.source, Severity::Warning),
            report,
        );
        if found <= limit.value {
            continue;
        }
        let (shown, needed) = show_pair(found, limit.value, Dimension::WaterSpeed);
        let finding = limit.mark(
            Finding::new(
                &RULE.kind,
                pipe.pipe.as_ref().map_or(pipe.span, |named| named.span),
                format!("water is too fast in water pipe `{}`", pipe.name),
                "choose a larger `pipe`, or a smaller circulator",
            )
            .measured(shown, Relation::AtMost, needed),
        );
        report.find(if found > WEARS {
            finding.severity(Severity::Error)
        } else {
            finding
        });
    }
}
