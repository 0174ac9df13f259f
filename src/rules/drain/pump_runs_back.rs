//! What the pump has lifted does not run back into its tank.

use crate::catalog::Stated;
use crate::quantity::Length;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN033",
        name: "pump_runs_back",
        title: "pump without a check valve",
        severity: Severity::Warning,
        source: "common practice",
        why: Why {
            checks: "A pump that lifts has a check valve, its own or one beside it.",
            on_site: "Each time it stops the water in its tube runs back: the pump starts again at once, and wears out in a season.",
            fix: "Add `check-valve`, or use a pump that has one.",
        },
    },
    example: Example {
        wrong: "pump lift2 { model \"Example condensate pump\", on first, center 8 ft, 4 ft, lift 6 ft, discharge to laundry-sink, air gap 2 in }",
        right: "pump lift2 { model \"Example condensate pump\", on first, center 8 ft, 4 ft, lift 6 ft, pipe \"3/8 in vinyl tube\", measured 12 ft, check-valve, discharge to laundry-sink, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for pump in job.model.pumps.values() {
        let sheet = pump
            .model
            .as_ref()
            .and_then(|model| job.catalog.pumps.get(&model.value));
        let own = sheet.and_then(|sheet| sheet.check_valve.as_ref().and_then(Stated::get));
        let lifts = pump.lift.filter(|lift| lift.value > Length::ZERO);
        let (Some(lift), None) = (lifts, pump.check_valve) else {
            continue;
        };
        if own == Some(true) || sheet.is_none() || pump.flawed {
            continue;
        }
        report.find(
            Finding::new(
                &RULE.kind,
                pump.span,
                format!(
                    "nothing keeps the water of pump `{}` from running back",
                    pump.name
                ),
                "add `check-valve`",
            )
            .measured(Shown::count(0), Relation::AtLeast, Shown::count(1))
            .label(lift.span, "what it lifts"),
        );
    }
}
