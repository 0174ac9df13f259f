//! Where an overflow would wet the house, a second way or a switch catches it.

use crate::catalog::{Fitted, SafetyType};
use crate::model::{AirHandler, Mark};
use crate::quantity::{Length, length_text};
use crate::rules::described::Trade;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN038",
        name: "second_line_missing",
        title: "nothing catches an overflow",
        severity: Severity::Error,
        source: "IRC M1411.3.1; IMC 307.2.3",
        why: Why {
            checks: "A unit with a cooling coil that stands over another story has one of: a pan with a drain of its own, a pan with a switch, a second drain from its secondary port, or a switch in its own pan or drain line. It is looked for from the order on, once the other trades are described.",
            on_site: "The trap clogs with slime in the second summer, and the ceiling comes down.",
            fix: "Set a pan with a switch under the unit.",
        },
    },
    example: Example {
        wrong: "pan p2 under ah { size 54 in x 31 in, depth 2 in }",
        right: "pan p2 under ah { size 54 in x 31 in, depth 2 in, item \"31 x 54 in pan\", switch \"Test pan float switch\" }",
    },
    check,
};

/// Whether a switch sits in the unit's own pan: fitted by the maker, or named as fitted.
pub(super) fn has_own_switch(unit: &AirHandler) -> bool {
    unit.sheet.safeties.iter().any(|(name, safety)| {
        safety.type_of.get() == Some(SafetyType::Float)
            && (safety.fitted.get() == Some(Fitted::Fitted)
                || unit.fitted.iter().any(|part| part.value == *name))
    })
}

/// Whether a drain catches what the first one lets through: of a secondary port, or of a pan.
fn has_second_drain(job: &Job<'_>, unit: &AirHandler) -> bool {
    job.model.drains.values().any(|drain| {
        let switch = drain
            .happenings
            .iter()
            .any(|happening| matches!(happening.mark, Mark::FloatSwitch(_)));
        drain.unit == unit.name && (drain.is_second_line() || switch || drain.flawed)
    })
}

/// A pan that passes, as one types it.
fn pan_words(unit: &AirHandler) -> String {
    let Some(cabinet) = unit.cabinet else {
        return "add a `pan` under the unit with a `switch` in it".to_owned();
    };
    let (x, y, _) = cabinet.size();
    let three = Length::inches(3);
    format!(
        "add `pan safety-pan under {} {{ size {} x {}, depth 2 in, switch \"…\" }}`",
        unit.name,
        length_text(x + three),
        length_text(y + three)
    )
}

fn check(job: &Job<'_>, report: &mut Report) {
    let lowest = job.model.house.stories.values().map(|s| s.floor).min();
    for unit in job.model.air_handlers.values() {
        let floor = job.model.house.stories.get(&unit.story).map(|s| s.floor);
        let drained = job
            .model
            .drains
            .values()
            .any(|drain| drain.unit == unit.name);
        if unit.sheet.cooling.is_empty() || !drained || floor <= lowest {
            continue;
        }
        let pan = job
            .model
            .pans
            .values()
            .find(|pan| pan.unit.value == unit.name);
        let pan_works = pan.is_some_and(|pan| pan.switch.is_some() || pan.flawed);
        if pan_works || has_own_switch(unit) || has_second_drain(job, unit) {
            continue;
        }
        if pan.is_none() && !job.misses(Trade::Drain) {
            report.not_checked(
                &RULE.kind,
                format!("air-handler {}", unit.name),
                "no pan, second drain or switch is described yet",
                Some(unit.span),
            );
            continue;
        }
        let finding = match pan {
            Some(pan) => Finding::new(
                &RULE.kind,
                pan.span,
                format!("pan `{}` has neither a drain nor a switch", pan.name),
                "add `switch` with a float switch for pans, or a drain from the pan",
            )
            .label(unit.span, "the unit above it"),
            None => Finding::new(
                &RULE.kind,
                unit.span,
                format!(
                    "nothing catches the water when the drain of `{}` is stopped",
                    unit.name
                ),
                pan_words(unit),
            ),
        };
        report.find(finding.measured(Shown::count(0), Relation::AtLeast, Shown::count(1)));
    }
}
