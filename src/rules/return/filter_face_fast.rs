//! Air passes the filter slowly enough that it holds its dust.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Kind, Severity, Why};

use super::face;

/// Greatest velocity over the face of a 1 in filter, fpm (common practice, from memory).
const MOST: f64 = 300.0;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "RET002",
        name: "filter_face_fast",
        title: "filter too small",
        severity: Severity::Warning,
        source: "common practice",
        why: Why {
            checks: "The air that the solved circuit draws passes the face of the return's filter at 300 fpm at most.",
            on_site: "Dust is pulled through to the coil, the filter clogs within weeks, and the coil ices behind it.",
            fix: "Use a larger filter, or a second return with its own.",
        },
    },
    example: Example {
        wrong: "return ret to ah.return { grille \"24 x 24 in grille\", in hall, filter \"14 x 14 in filter\", measured 8 ft }",
        right: "return ret to ah.return { grille \"24 x 24 in grille\", in hall, filter \"24 x 24 in filter\", measured 8 ft }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    face::check(
        job,
        report,
        &RULE.kind,
        ("filter", "filter-velocity", "filter", MOST),
    );
}
