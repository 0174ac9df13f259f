//! A setting that needs a jumper has it.

use crate::catalog::Jumper;
use crate::model::AirHandler;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::power::{is_fed_outside, setting_of};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR010",
        name: "jumper_missing",
        title: "conversion jumper missing",
        severity: Severity::Error,
        source: "the equipment's catalog; NEC 110.3(B)",
        why: Why {
            checks: "Where the job converts the unit to another voltage setting, the jumpers of that setting are written down. The setting as shipped comes with its own.",
            on_site: "The blower hums and does not start, or starts and stops until its windings or its board burn.",
            fix: "Add the jumper named in the report.",
        },
    },
    example: Example {
        wrong: "air-handler ah { model \"Test 3-ton, flat\", on attic, center 6 ft, 6 ft, discharge toward east, stand 10 in, tap 4, voltage-setting \"converted to 120 V\" }",
        right: "air-handler ah { model \"Test 3-ton, flat\", on attic, center 6 ft, 6 ft, discharge toward east, stand 10 in, tap 4, voltage-setting \"converted to 120 V\", jumper from J1 to J2 }",
    },
    check,
};

/// Whether the job's unit has this jumper, either way round.
pub(super) fn is_there(unit: &AirHandler, jumper: &Jumper) -> bool {
    let (Some(from), Some(to)) = (jumper.from.get(), jumper.to.get()) else {
        return true;
    };
    unit.jumpers.iter().any(|(one, other, _)| {
        (one.value == from && other.value == to) || (one.value == to && other.value == from)
    })
}

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values() {
        // A setting that does not fit the supply is reported as that.
        if is_fed_outside(job.model, unit) {
            continue;
        }
        let Some((name, setting)) = setting_of(unit) else {
            continue;
        };
        // As shipped, the jumpers are in place from the factory unless the job says otherwise.
        let shipped = unit
            .sheet
            .electrical
            .settings
            .first()
            .is_some_and(|(first, _)| first == name);
        if unit.flawed || shipped && unit.jumpers.is_empty() {
            continue;
        }
        let span = unit
            .setting
            .as_ref()
            .map_or(unit.span, |setting| setting.span);
        for jumper in setting
            .jumpers
            .iter()
            .flatten()
            .filter(|jumper| !is_there(unit, jumper))
        {
            let (from, to) = (
                jumper.from.get().unwrap_or_default(),
                jumper.to.get().unwrap_or_default(),
            );
            let words = format!("jumper from {from} to {to}");
            report.find(
                Finding::new(
                    &RULE.kind,
                    span,
                    format!(
                        "setting `{name}` of `{}` needs a jumper that is not there",
                        unit.name
                    ),
                    format!("add `{words}`"),
                )
                .measured(
                    Shown::word("no jumper"),
                    Relation::Equal,
                    Shown::word(format!("{from} to {to}")),
                )
                .label(
                    jumper.span,
                    setting
                        .if_wrong
                        .get()
                        .unwrap_or_else(|| "the jumper of the setting".to_owned()),
                )
                .edit(
                    crate::source::Span::new(span.file, span.end, span.end),
                    format!(", {words}"),
                ),
            );
        }
    }
}
