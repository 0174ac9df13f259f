//! Before a panel somebody can stand and work.

use crate::quantity::{Dimension, Length, show_length_pair, trade_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR029",
        name: "panel_space_blocked",
        title: "working space before a panel blocked",
        severity: Severity::Error,
        source: "NEC 110.26(A)",
        why: Why {
            checks: "Before a panel whose front is said to look somewhere, 3 ft deep and 6 1/2 ft high, a stretch of 30 in, or as wide as the panel where that is more, holds the panel's whole width and nothing stands in it. An air handler, a boiler, a wall, a flue and any obstacle count, unless they are said to come away.",
            on_site: "The electrician leans over a boiler into live lugs, or the door of the panel opens half.",
            fix: "Move what stands there, or set it beside the space.",
        },
    },
    example: Example {
        wrong: "panel p2 on first { at 30 ft, 6 ft, faces west, supply 240/120 }\nobstacle tank on first { corner 28 ft, 5 ft, size 18 in x 2 ft, height 5 ft }",
        right: "panel p2 on first { at 30 ft, 6 ft, faces west, supply 240/120 }\nobstacle tank on first { corner 25 ft, 5 ft, size 18 in x 2 ft, height 5 ft }",
    },
    check,
};

/// Width of the working space (NEC 110.26(A)(2)).
const WIDE: Length = Length::inches(30);

fn check(job: &Job<'_>, report: &mut Report) {
    for panel in job.model.panels.values() {
        let id = format!("panel.{}.working-width", panel.name);
        let (Some(figure), Some(clear), Some(faces)) =
            (job.ledger.get(&id), job.ledger.length(&id), &panel.faces)
        else {
            if panel.faces.is_none() && !job.model.is_misread(&panel.name) {
                report.not_checked(
                    &RULE.kind,
                    format!("panel {}", panel.name),
                    "which way its front looks is not said",
                    Some(panel.span),
                );
            }
            continue;
        };
        let own = Limit::default_of(
            panel.width.map_or(WIDE, |width| width.value.max(WIDE)),
            RULE.kind.source,
            RULE.kind.severity,
        );
        let least = job.limit(
            &RULE.kind,
            ("width", Dimension::Length),
            Relation::AtLeast,
            own,
            report,
        );
        if clear >= least.value {
            continue;
        }
        let things: Vec<_> = figure
            .places()
            .filter(|(span, _)| *span != faces.span)
            .collect();
        let Some((first, first_words)) = things.first() else {
            continue;
        };
        let (found, needed) = show_length_pair(clear, least.value);
        let mut finding = Finding::new(
            &RULE.kind,
            *first,
            format!(
                "`{first_words}` stands in the working space before panel `{}`",
                panel.name
            ),
            format!(
                "keep {} clear there: move it, or the panel",
                trade_length(least.value)
            ),
        )
        .measured(found, Relation::AtLeast, needed)
        .label(panel.span, "the panel");
        for (span, words) in things.iter().skip(1) {
            finding = finding.label(*span, format!("`{words}` stands there too"));
        }
        report.find(least.mark(finding));
    }
}
