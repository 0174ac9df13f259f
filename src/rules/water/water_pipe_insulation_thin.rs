//! Hot pipes outside the envelope are insulated.

use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD012",
        name: "water_pipe_insulation_thin",
        title: "hot-water pipe insulated too thin",
        severity: Severity::Error,
        source: "IECC and IRC R403.4 (N1103.4)",
        why: Why {
            checks: "A pipe with water above 105 °F that passes a space neither heated nor cooled has at least R-3.",
            on_site: "The attic is heated, the coil gets cooler water, and the pipe freezes sooner when the pump stands.",
            fix: "Wrap it the whole way, its hangers outside of the insulation.",
        },
    },
    example: Example {
        wrong: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", up 9 ft, insulation "R-2" }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }"#,
        right: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", up 9 ft, insulation "R-3" }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }"#,
    },
    check,
};

/// Least resistance, h·ft²·°F/Btu.
const LEAST: f64 = 3.0;
/// Water above which the code asks for it, °F.
const HOT: f64 = 105.0;

fn check(job: &Job<'_>, report: &mut Report) {
    let water = &job.model.water;
    for found in &water.loops {
        let cool = water
            .boiler_water(&found.boiler)
            .is_some_and(|water| water.value <= HOT);
        for name in found.pipes() {
            let id = |what: &str| format!("water-pipe.{name}.{what}");
            let cold = job
                .ledger
                .get(&id("in-cold"))
                .is_some_and(|figure| figure.value == crate::figures::FigureValue::Bool(true));
            let Some(pipe) = water.pipes.get(name).filter(|_| cold && !cool) else {
                continue;
            };
            let Some(has) = job.ledger.real(&id("insulation")) else {
                report.not_known(
                    &RULE.kind,
                    format!("water pipe `{name}`"),
                    (job.ledger, &id("insulation")),
                    pipe.span,
                );
                continue;
            };
            let limit = job.limit(
                &RULE.kind,
                ("insulation", Dimension::RValue),
                Relation::AtLeast,
                Limit::default_of(LEAST, RULE.kind.source, Severity::Error),
                report,
            );
            if has >= limit.value {
                continue;
            }
            let (shown, needed) = show_pair(has, limit.value, Dimension::RValue);
            report.find(
                limit.mark(
                    Finding::new(
                        &RULE.kind,
                        pipe.insulation
                            .as_ref()
                            .map_or(pipe.span, |words| words.span),
                        format!("water pipe `{name}` is insulated too thin outside the envelope"),
                        "write `insulation \"R-3\"` or thicker",
                    )
                    .measured(shown, Relation::AtLeast, needed),
                ),
            );
        }
    }
}
