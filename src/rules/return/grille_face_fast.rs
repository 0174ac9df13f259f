//! Air enters the return grille slowly enough not to be heard.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Kind, Severity, Why};

use super::face;

/// Greatest velocity over the whole opening of a return grille, fpm (common practice, from memory).
const MOST: f64 = 500.0;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "RET001",
        name: "grille_face_fast",
        title: "return grille too small",
        severity: Severity::Warning,
        source: "common practice",
        why: Why {
            checks: "The air that the solved circuit draws through a return grille passes its whole opening at 500 fpm at most.",
            on_site: "The grille rushes whenever the blower runs, and the loss takes air from every outlet.",
            fix: "Use a larger grille, or a second return.",
        },
    },
    example: Example {
        wrong: "return ret to ah.return { grille \"8 x 8 in grille\", in hall, measured 8 ft }",
        right: "return ret to ah.return { grille \"24 x 24 in grille\", in hall, measured 8 ft }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    face::check(
        job,
        report,
        &RULE.kind,
        ("grille", "face-velocity", "grille", MOST),
    );
}
