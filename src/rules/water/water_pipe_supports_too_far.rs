//! A water pipe is held often enough.

use crate::rules::supports::too_far;
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Kind, Severity, Why};

use super::water_pipe_not_rated::RATED;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD013",
        name: "water_pipe_supports_too_far",
        title: "water-pipe supports too far apart",
        severity: Severity::Error,
        source: "IRC Table M2101.9 (from memory) and P2605.1",
        why: Why {
            checks: "Supports of a level pipe stand no further apart than its material allows: copper tube to 1 1/4 in 6 ft, PEX 32 in, steel 12 ft, or as the catalog says.",
            on_site: "The pipe sags, knocks when it warms up, and its low places hold dirt while its high ones hold air.",
            fix: "Set supports at the distance named in the report.",
        },
    },
    example: Example {
        wrong: r#"water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, hanger every 7 ft }"#,
        right: r#"water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, hanger every 6 ft }"#,
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for pipe in job.model.water.pipes.values() {
        let (Some(spacing), Some(named)) = (pipe.hangers, &pipe.pipe) else {
            continue;
        };
        let Some(sheet) = job.catalog.pipes.get(&named.value) else {
            continue;
        };
        // Pipe that is not made for hot water is told once, as that.
        if sheet
            .material
            .get()
            .is_some_and(|material| !RATED.contains(&material))
        {
            continue;
        }
        let Some(most) = sheet.support.get() else {
            let reason = sheet.support.reason().unwrap_or("not given");
            report.not_checked(
                &RULE.kind,
                format!("water pipe `{}`", pipe.name),
                reason,
                Some(spacing.span),
            );
            continue;
        };
        let own = Limit {
            source: format!("the stock's catalog; {}", RULE.kind.source),
            ..Limit::of_catalog(most, sheet.support.span)
        };
        let message = || {
            format!(
                "the supports of water pipe `{}` stand too far apart",
                pipe.name
            )
        };
        too_far((job, &RULE.kind), spacing, own, message, report);
    }
}
