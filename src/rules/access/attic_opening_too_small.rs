//! An opening to an attic is at least 20 in by 30 in.

use crate::figures::FigureValue;
use crate::quantity::{Dimension, Length};
use crate::rules::opening::smaller;
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "ACC006",
        name: "attic_opening_too_small",
        title: "opening to the attic smaller than the code asks",
        severity: Severity::Error,
        source: "IRC M1305.1.3",
        why: Why {
            checks: "That the clear opening is at least 20 in by 30 in where equipment stands in the attic. Some places ask more.",
            on_site: "The inspector does not pass it, and nobody with a tool bag gets through.",
            fix: "Widen the opening. Where joists or trusses would be cut, that is for a design professional.",
        },
    },
    example: Example {
        wrong: "attic-access loft on attic { center 20 ft, 8 ft, size 19 1/2 in x 54 in }\naccess-path over from loft to ah { length 6 ft, clear 30 in x 60 in, floored 24 in }",
        right: "attic-access loft on attic { center 20 ft, 8 ft, size 20 in x 54 in }\naccess-path over from loft to ah { length 6 ft, clear 30 in x 60 in, floored 24 in }",
    },
    check,
};

const SHORT: Length = Length::inches(20);
const LONG: Length = Length::inches(30);

fn check(job: &Job<'_>, report: &mut Report) {
    for hatch in job.model.house.hatches.values() {
        let before = format!("attic-access.{}.passes.", hatch.name);
        let pieces: Vec<&FigureValue> = job
            .ledger
            .iter()
            .filter(|figure| figure.id.starts_with(&before))
            .map(|figure| &figure.value)
            .collect();
        // An opening that no equipment stands behind is none of this; one too small for the piece is reported as that.
        if pieces.is_empty() || pieces.contains(&&FigureValue::Bool(false)) {
            continue;
        }
        let code = |value| Limit::default_of(value, "IRC M1305.1.3", Severity::Error);
        let short = ("short-side", Dimension::Length);
        let long = ("long-side", Dimension::Length);
        let short = job.limit(&RULE.kind, short, Relation::AtLeast, code(SHORT), report);
        let long = job.limit(&RULE.kind, long, Relation::AtLeast, code(LONG), report);
        let message = format!("opening `{}` is smaller than the code asks", hatch.name);
        smaller(&RULE.kind, hatch, (&short, &long), message, report);
    }
}
