//! One control, not two, keeps the blower on after a call.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL033",
        name: "blower_runs_on_twice",
        title: "blower kept on by board and thermostat",
        severity: Severity::Advice,
        source: "common practice; the times are the catalogs'",
        why: Why {
            checks: "After a call for cooling or for heat has ended, not both the unit's board and a thermostat that runs its blower keep the blower on.",
            on_site: "Somebody shortens the one time and nothing changes. After cooling the blower dries the wet coil back into the rooms for the longer of the two.",
            fix: "Set the time of the thermostat to nothing, or take one that keeps none.",
        },
    },
    example: Example {
        wrong: "thermostat stat in hall { model \"Test thermostat, blower after heat\" }",
        right: "thermostat stat in hall { model \"Test thermostat\" }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values() {
        for (end, words, board) in [
            (
                "cool",
                "cooling",
                unit.sheet
                    .times
                    .as_ref()
                    .and_then(|one| one.blower_after_cool.as_ref()),
            ),
            (
                "heat",
                "heat",
                unit.sheet
                    .times
                    .as_ref()
                    .and_then(|one| one.blower_after_heat.as_ref()),
            ),
        ] {
            let figure = job
                .ledger
                .get(&format!("control.{}.blower-after-{end}", unit.name));
            let (Some(board), Some(figure)) = (board, figure) else {
                continue;
            };
            let both = |span| span == board.span;
            if !figure.places().any(|(span, _)| both(span)) {
                continue;
            }
            for (span, name) in figure.places().filter(|(span, _)| !both(*span)) {
                let place = job
                    .model
                    .thermostats
                    .get(name)
                    .and_then(|one| one.model.as_ref());
                report.find(
                    Finding::new(
                        &RULE.kind,
                        place.map_or(span, |model| model.span),
                        format!(
                            "after {words} both `{name}` and the board of `{}` keep the blower on",
                            unit.name
                        ),
                        format!("set the time of `{name}` to nothing, or take a thermostat that keeps none"),
                    )
                    .measured(Shown::word("2 controls"), Relation::Equal, Shown::word("1 control"))
                    .label(board.span, "the board's time")
                    .label(span, "the thermostat's time"),
                );
            }
        }
    }
}
