//! Between its supports a drain keeps falling.

use crate::quantity::{Length, Slope, length_text, show_slope, trade_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN026",
        name: "leg_sags",
        title: "drain leg that sags between its supports",
        severity: Severity::Warning,
        source: "a beam on two supports; common practice",
        why: Why {
            checks: "The slope that a level leg takes at its supports, hanging through under its own weight and water in the heat around it, is less than its fall. A leg that is too flat for the code is reported as that.",
            on_site: "Before each support the pipe runs uphill: water stands in every bay, slime settles in it, and in an attic it freezes.",
            fix: "Set the supports as close as the report says, or give the leg more fall.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 8 ft, fall 2 in, hanger every 5 ft, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 8 ft, fall 2 in, hanger every 3 ft, discharge to tub, air gap 2 in }",
    },
    check,
};

/// Nearer than this nobody sets supports: the pipe wants more fall, or a stiffer wall.
const NEAREST: Length = Length::FOOT;

fn check(job: &Job<'_>, report: &mut Report) {
    let least = super::leg_too_flat::least(job, &mut Report::default()).value;
    for drain in job.model.drains.values() {
        // Supports further apart than the pipe allows are reported as that.
        let pipe = drain
            .pipe
            .as_ref()
            .and_then(|pipe| job.catalog.pipes.get(&pipe.value));
        let allowed = pipe.and_then(|pipe| pipe.support.get());
        if let (Some(set), Some(allowed)) = (drain.hangers, allowed)
            && set.value > allowed
        {
            continue;
        }
        for (n, leg) in drain.legs.iter().enumerate() {
            let id = |what: &str| format!("drain.{}.leg-{}-{what}", drain.name, n + 1);
            let Some(fall) = leg.fall else { continue };
            let (Some(found), Some(sag)) = (
                Slope::of(fall.value, leg.length),
                job.ledger.slope(&id("sag-slope")),
            ) else {
                continue;
            };
            if found < least || found > sag {
                continue;
            }
            let most = job.ledger.length(&id("support-most"));
            let help = match most.filter(|most| *most >= NEAREST) {
                Some(most) => format!("write `hanger every {}`", length_text(most)),
                None => "give the leg more fall, or use stiffer pipe".to_owned(),
            };
            let mut finding = Finding::new(
                &RULE.kind,
                leg.span,
                format!(
                    "leg `{} {}` of drain `{}` hangs through between its supports and runs uphill before each",
                    leg.direction.word(),
                    trade_length(leg.length),
                    drain.name
                ),
                help,
            )
            .measured(show_slope(found), Relation::AtLeast, show_slope(sag));
            if let Some(most) = most.filter(|most| *most >= NEAREST) {
                finding = match drain.hangers {
                    Some(spacing) => finding
                        .label(spacing.span, "the supports")
                        .edit(spacing.span, length_text(most)),
                    None => finding.edit(
                        Span::new(fall.span.file, fall.span.end, fall.span.end),
                        format!(", hanger every {}", length_text(most)),
                    ),
                };
            }
            report.find(finding);
        }
    }
}
