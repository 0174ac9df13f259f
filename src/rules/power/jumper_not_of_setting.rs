//! A unit carries the jumpers of its setting and no other.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::power::{is_fed_outside, setting_of};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR011",
        name: "jumper_not_of_setting",
        title: "jumper that does not belong to the setting",
        severity: Severity::Error,
        source: "the equipment's catalog; NEC 110.3(B)",
        why: Why {
            checks: "Every jumper in the job is one that the sheet gives for the voltage setting in force.",
            on_site: "The blower is half converted: at 240 V the jumper of the 120 V setting burns the motor.",
            fix: "Take the jumper out, or name the setting that it belongs to.",
        },
    },
    example: Example {
        wrong: "air-handler ah { model \"Test 3-ton, flat\", on attic, center 6 ft, 6 ft, discharge toward east, stand 10 in, tap 4, jumper from J1 to J2 }",
        right: "air-handler ah { model \"Test 3-ton, flat\", on attic, center 6 ft, 6 ft, discharge toward east, stand 10 in, tap 4 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values() {
        // A setting that does not fit the supply is reported as that.
        if is_fed_outside(job.model, unit) {
            continue;
        }
        let Some((name, setting)) = setting_of(unit) else {
            continue;
        };
        let known = &unit.sheet.electrical.terminals;
        for (from, to, span) in &unit.jumpers {
            // An unknown terminal is reported by the model.
            if !(known.contains_key(&from.value) && known.contains_key(&to.value)) {
                continue;
            }
            let of = |settings: &crate::catalog::VoltageSetting| {
                settings.jumpers.iter().flatten().any(|jumper| {
                    let pair = (jumper.from.get(), jumper.to.get());
                    let given = (Some(from.value.clone()), Some(to.value.clone()));
                    pair == given || pair == (given.1, given.0)
                })
            };
            let on_empty = setting
                .empty
                .iter()
                .flatten()
                .filter_map(crate::catalog::Stated::get)
                .any(|empty| empty == from.value || empty == to.value);
            // A jumper on a terminal that stays empty is reported as that.
            if of(setting) || on_empty {
                continue;
            }
            let owner = unit
                .sheet
                .electrical
                .settings
                .iter()
                .find(|(_, setting)| of(setting))
                .map(|(name, _)| name);
            let found = format!("{} to {}", from.value, to.value);
            let allowed: Vec<String> = setting
                .jumpers
                .iter()
                .flatten()
                .filter_map(|jumper| {
                    Some(format!("{} to {}", jumper.from.get()?, jumper.to.get()?))
                })
                .collect();
            let needed = if allowed.is_empty() {
                "no jumper".to_owned()
            } else {
                allowed.join(", ")
            };
            let mut finding = Finding::new(
                &RULE.kind,
                *span,
                format!(
                    "the jumper `{found}` of `{}` does not belong to setting `{name}`",
                    unit.name
                ),
                owner.map_or_else(
                    || "take the jumper out".to_owned(),
                    |owner| format!("take the jumper out, or write `voltage-setting \"{owner}\"`"),
                ),
            )
            .measured(
                Shown::word(found.clone()),
                Relation::Equal,
                Shown::word(needed),
            )
            .label(setting.span, "the setting in force");
            if let Some(named) = &unit.setting {
                finding = finding.label(named.span, "named here");
            }
            report.find(finding);
        }
    }
}
