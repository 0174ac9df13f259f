//! The control transformer is a Class 2 source.

use crate::quantity::{ApparentPower, Current, Dimension, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};
use crate::systems::controls::CONTROL_VOLTS;

/// Greatest rating of a source over 20 V to 30 V that does not limit itself, VA; its fuse may carry that much at
/// its voltage.
const MOST: f64 = 100.0;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL029",
        name: "class_two_exceeded",
        title: "control transformer beyond Class 2",
        severity: Severity::Error,
        source: "NEC chapter 9 table 11(A)",
        why: Why {
            checks: "A 24 V transformer that does not limit its own current is rated at most 100 VA, and its fuse lets at most 100 VA through: only then may thermostat cable be run as Class 2.",
            on_site: "A staple through the thermostat cable heats it until something burns, because nothing limits the current.",
            fix: "Take a transformer that is marked Class 2, or the fuse that the report names.",
        },
    },
    example: Example {
        wrong: "# transformer: { rating: 150 VA, own-load: 10 VA }",
        right: "# transformer: { rating: 75 VA, own-load: 10 VA, fuse: 3 A }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values() {
        let transformer = &unit.sheet.transformer;
        let limits = transformer.limits_itself.as_ref();
        if limits.and_then(crate::catalog::Stated::get) == Some(true) {
            continue;
        }
        let rating = transformer.rating.get().map(ApparentPower::value);
        if let Some(rating) = rating.filter(|rating| *rating > MOST) {
            let (found, needed) = show_pair(rating, MOST, Dimension::ApparentPower);
            report.find(
                Finding::new(
                    &RULE.kind,
                    unit.model.span,
                    format!("the 24 V transformer of `{}` is too large for Class 2 wiring", unit.name),
                    "choose a unit whose transformer limits itself, or wire the controls as Class 1",
                )
                .measured(found, Relation::AtMost, needed)
                .label(transformer.rating.span, "the transformer's rating"),
            );
            continue;
        }
        let Some((stated, fuse)) = transformer
            .fuse
            .as_ref()
            .and_then(|fuse| Some((fuse, fuse.get().map(Current::value)?)))
        else {
            continue;
        };
        let most = MOST / CONTROL_VOLTS;
        if fuse > most {
            let (found, needed) = show_pair(fuse, most, Dimension::Current);
            report.find(
                Finding::new(
                    &RULE.kind,
                    unit.model.span,
                    format!(
                        "the 24 V fuse of `{}` is too large for Class 2 wiring",
                        unit.name
                    ),
                    "ask the maker for the fuse that belongs there",
                )
                .measured(found, Relation::AtMost, needed)
                .label(stated.span, "the fuse"),
            );
        }
    }
}
