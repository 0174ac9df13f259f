//! A boiler gives what its coils and radiators ask for.

use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD008",
        name: "boiler_too_small",
        title: "boiler smaller than what hangs on it",
        severity: Severity::Warning,
        source: "IRC M1401.3; heat balance",
        why: Why {
            checks: "The boiler's output against what the rooms on its coils lose (as far as the coils can give it), what old radiators on it give, and what the pipes lose.",
            on_site: "On the coldest days the water gets cooler and cooler, and every room with it.",
            fix: "Choose a larger boiler, take the old radiators off, or look at the loads again.",
        },
    },
    example: Example {
        wrong: r#"radiators old-loop on heater { room hall gives 60000 Btu/h }
water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, up 9 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }"#,
        right: r#"radiators old-loop on heater { room hall gives 600 Btu/h }
water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, up 9 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }"#,
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for boiler in job
        .model
        .water
        .boilers
        .values()
        .filter(|boiler| !boiler.flawed)
    {
        let id = |what: &str| format!("boiler.{}.{what}", boiler.name);
        let all = (
            job.ledger.real(&id("share")),
            job.ledger.real(&id("output")),
            job.ledger.real(&id("asked")),
        );
        let (Some(share), Some(gives), Some(asked)) = all else {
            if !job.rests_on_airflow(&id("asked")) {
                report.not_known(
                    &RULE.kind,
                    format!("boiler `{}`", boiler.name),
                    (job.ledger, &id("asked")),
                    boiler.span,
                );
            }
            continue;
        };
        let limit = job.limit(
            &RULE.kind,
            ("share", Dimension::Ratio),
            Relation::AtLeast,
            Limit::default_of(100.0, RULE.kind.source, Severity::Warning),
            report,
        );
        if share >= limit.value * (1.0 - 1e-12) {
            continue;
        }
        let (found, needed) = show_pair(gives, asked * limit.value / 100.0, Dimension::HeatFlow);
        report.find(
            limit.mark(
                Finding::new(
                    &RULE.kind,
                    boiler
                        .model
                        .as_ref()
                        .map_or(boiler.span, |named| named.span),
                    format!("boiler `{}` gives less heat than hangs on it", boiler.name),
                    "choose a larger model, or take old radiators off the boiler",
                )
                .measured(found, Relation::AtLeast, needed),
            ),
        );
    }
}
