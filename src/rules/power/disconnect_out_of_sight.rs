//! A disconnect stands in sight of its unit.

use crate::quantity::{Dimension, Length, length_text, show_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR019",
        name: "disconnect_out_of_sight",
        title: "disconnect out of sight of its unit",
        severity: Severity::Error,
        source: "NEC 440.14, Article 100",
        why: Why {
            checks: "A disconnect can be seen from the unit that it switches off, and is no more than 50 ft away.",
            on_site: "Somebody closes it again while a hand is in the blower.",
            fix: "Set it where the person at the unit sees it.",
        },
    },
    example: Example {
        wrong: "disconnect second for ah { distance 3 ft, rating 30 A, hidden }",
        right: "disconnect second for ah { distance 3 ft, rating 30 A }",
    },
    check,
};

/// Farthest that counts as in sight (NEC Article 100).
const FARTHEST: Length = Length::inches(600);

fn check(job: &Job<'_>, report: &mut Report) {
    for disconnect in job.model.disconnects.values() {
        if let Some(hidden) = disconnect.hidden {
            report.find(
                Finding::new(
                    &RULE.kind,
                    hidden,
                    format!(
                        "disconnect `{}` cannot be seen from `{}`",
                        disconnect.name, disconnect.unit.value
                    ),
                    "set it in sight of the unit and take `hidden` out",
                )
                .measured(
                    Shown::word("hidden"),
                    Relation::Equal,
                    Shown::word("in sight"),
                )
                .label(disconnect.span, "the disconnect"),
            );
            continue;
        }
        let Some(distance) = disconnect.distance else {
            continue;
        };
        let own = Limit::default_of(FARTHEST, RULE.kind.source, RULE.kind.severity);
        let most = job.limit(
            &RULE.kind,
            ("distance", Dimension::Length),
            Relation::AtMost,
            own,
            report,
        );
        if distance.value <= most.value {
            continue;
        }
        let good = length_text(most.value);
        report.find(
            most.mark(
                Finding::new(
                    &RULE.kind,
                    distance.span,
                    format!(
                        "disconnect `{}` is too far from `{}` to be in sight of it",
                        disconnect.name, disconnect.unit.value
                    ),
                    format!("set it nearer: `distance {good}` at most"),
                )
                .measured(
                    show_length(distance.value),
                    Relation::AtMost,
                    show_length(most.value),
                )
                .edit(distance.span, good),
            ),
        );
    }
}
