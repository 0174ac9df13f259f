//! A compressor stands as long as its maker asks before it starts again.

use crate::catalog::{Call, CallSide, Role, Stated, Times};
use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::controls::handlers_of;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL032",
        name: "compressor_not_kept_off",
        title: "compressor may start again too soon",
        severity: Severity::Error,
        source: "the catalog of the outdoor unit or chiller; time delays by common practice",
        why: Why {
            checks: "Where the catalog of an outdoor unit or chiller states how long its compressor has to stand between two runs, the unit's own control, a board that all its calls for cooling pass, or its only thermostat keeps it off that long. Of several thermostats none counts: one calls as another ends.",
            on_site: "A thermostat is nudged, the compressor starts against the pressure it has just made, hums with its rotor held, and trips the breaker or burns.",
            fix: "Take a thermostat or a board that keeps the compressor off long enough, or fit a time delay as the maker of the unit says.",
        },
    },
    example: Example {
        wrong: "thermostat stat in hall { model \"Test thermostat, short time off\" }",
        right: "thermostat stat in hall { model \"Test thermostat, time off\" }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.equipment.values() {
        let id = |what: &str| format!("control.{}.{what}", unit.name);
        let (Some(model), Some(asked)) = (&unit.model, job.ledger.real(&id("time-off-asked")))
        else {
            continue;
        };
        let found = job.ledger.real(&id("time-off"));
        if found.is_some_and(|found| found >= asked) || board_would(job, &unit.name, asked) {
            continue;
        }
        let (shown, needed) = show_pair(found.unwrap_or(0.0), asked, Dimension::Duration);
        let shown = match found {
            Some(_) => shown,
            None => Shown::word("not kept"),
        };
        let mut finding = Finding::new(
            &RULE.kind,
            model.span,
            format!(
                "the compressor of `{}` may start again sooner than its maker says",
                unit.name
            ),
            thermostats(job, asked).map_or_else(
                || "fit a time delay in its call as the maker says".to_owned(),
                |names| format!("take a thermostat that keeps it off that long: {names}; or fit a time delay as the maker says"),
            ),
        )
        .measured(shown, Relation::AtLeast, needed);
        for what in ["time-off-asked", "time-off"] {
            for (span, words) in job
                .ledger
                .get(&id(what))
                .iter()
                .flat_map(|one| one.places())
            {
                let words = if what == "time-off" {
                    format!("`{words}` keeps it off this long")
                } else {
                    "asked here".to_owned()
                };
                finding = finding.label(span, words);
            }
        }
        report.find(finding);
    }
}

/// Whether an air handler passes the call on behind a board that keeps it off long enough: a unit that is not called
/// from there is reported for that.
fn board_would(job: &Job<'_>, unit: &str, asked: f64) -> bool {
    let passes = Some((CallSide::Output, Call::Cool));
    handlers_of(job.model, unit)
        .iter()
        .filter_map(|name| job.model.air_handlers.get(name))
        .any(|handler| {
            let output = handler
                .sheet
                .control
                .values()
                .any(|terminal| terminal.role.get().and_then(Role::call) == passes);
            let off = handler
                .sheet
                .times
                .as_ref()
                .and_then(|times| times.time_off.as_ref()?.get());
            output && off.is_some_and(|off| off.value() >= asked)
        })
}

/// Thermostats of the catalogs that keep a compressor off at least as long as asked, where there are any.
fn thermostats(job: &Job<'_>, asked: f64) -> Option<String> {
    let off = |times: &Times| times.time_off.as_ref().and_then(Stated::get);
    let names: Vec<&str> = job
        .catalog
        .thermostats
        .iter()
        .filter(|(_, sheet)| {
            sheet
                .times
                .as_ref()
                .and_then(off)
                .is_some_and(|off| off.value() >= asked)
        })
        .map(|(name, _)| name.as_str())
        .collect();
    (!names.is_empty()).then(|| names.join(", "))
}
