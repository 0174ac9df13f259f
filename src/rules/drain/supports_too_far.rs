//! A drain is held often enough that it does not sag.

use crate::rules::supports::too_far;
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Kind, Severity, Why};
use crate::systems::drain::most_spacing;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN018",
        name: "supports_too_far",
        title: "drain supports too far apart",
        severity: Severity::Error,
        source: "IRC Table P2605.1; IMC Table 305.4",
        why: Why {
            checks: "The supports of a level drain stand no further apart than its pipe allows: 4 ft for PVC and ABS, 3 ft for CPVC, 32 in for PEX, 6 ft for copper; upright pipe is held every 10 ft.",
            on_site: "The pipe sags between its supports; every sag is a trap that nobody drew.",
            fix: "Set supports at the distance named in the report.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, hanger every 5 ft, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, hanger every 4 ft, discharge to tub, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let (Some(spacing), Some(pipe)) = (drain.hangers, &drain.pipe) else {
            continue;
        };
        let Some(support) = job.catalog.pipes.get(&pipe.value).map(|pipe| &pipe.support) else {
            continue;
        };
        let Some(most) = support.get() else {
            let reason = support.reason().unwrap_or("not given");
            report.not_checked(
                &RULE.kind,
                format!("drain {}", drain.name),
                reason,
                Some(spacing.span),
            );
            continue;
        };
        // The catalog may ask for less than the code allows, never more.
        let table = job
            .catalog
            .pipes
            .get(&pipe.value)
            .and_then(|pipe| most_spacing(pipe.material.get()?));
        let own = match table {
            Some((level, _)) if level < most => {
                Limit::default_of(level, RULE.kind.source, RULE.kind.severity)
            }
            _ => Limit {
                source: format!("the stock's catalog; {}", RULE.kind.source),
                ..Limit::of_catalog(most, support.span)
            },
        };
        let message = || {
            format!(
                "the supports of drain `{}` stand too far apart for its pipe",
                drain.name
            )
        };
        too_far((job, &RULE.kind), spacing, own, message, report);
    }
}
