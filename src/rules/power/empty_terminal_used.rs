//! A terminal that stays empty at the setting carries nothing.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Spanned, Why};
use crate::systems::power::{is_fed_outside, setting_of};

use super::conductor_on_wrong_terminal::is_ground;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR009",
        name: "empty_terminal_used",
        title: "wire on a terminal that stays empty",
        severity: Severity::Error,
        source: "the equipment's catalog; NEC 110.3(B)",
        why: Why {
            checks: "No conductor and no jumper sits on a terminal that the sheet leaves empty at the voltage setting in force.",
            on_site: "Full voltage on half the winding: the motor burns as the breaker is closed.",
            fix: "Move the conductor to the terminal named in the report.",
        },
    },
    example: Example {
        wrong: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240, land black on LV, land white on L2, land bare on GND }",
        right: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240, land black on L1, land white on L2, land bare on GND }",
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
        let mut used: Vec<(&Spanned<String>, String, Span)> = Vec::new();
        let circuits: Vec<_> = job
            .model
            .circuits
            .values()
            .filter(|circuit| circuit.unit.value == unit.name)
            .collect();
        for circuit in &circuits {
            for landing in &circuit.landings {
                // A ground conductor off its terminal is reported as that.
                if is_ground(&landing.conductor.value) {
                    continue;
                }
                let what = format!("conductor `{}`", landing.conductor.value);
                used.push((&landing.terminal, what, landing.span));
            }
        }
        for (from, to, span) in &unit.jumpers {
            used.push((from, "a jumper".to_owned(), *span));
            used.push((to, "a jumper".to_owned(), *span));
        }
        let lands = &setting.lands;
        let wanted = [
            Some(&lands.line_1),
            lands.line_2.as_ref(),
            lands.neutral.as_ref(),
        ];
        for empty in setting.empty.iter().flatten() {
            let Some(terminal) = empty.get() else {
                continue;
            };
            for (word, what, _) in used.iter().filter(|(word, ..)| word.value == terminal) {
                let free = wanted
                    .iter()
                    .flatten()
                    .filter_map(|stated| stated.get())
                    .find(|wanted| {
                        !circuits.iter().any(|circuit| {
                            circuit.landings.iter().any(|l| l.terminal.value == *wanted)
                        })
                    });
                let is_jumper = what == "a jumper";
                let mut finding = Finding::new(
                    &RULE.kind,
                    word.span,
                    format!(
                        "{what} sits on `{terminal}` of `{}`, which stays empty at setting `{name}`",
                        unit.name
                    ),
                    match (&free, is_jumper) {
                        (Some(free), false) => format!("land it on `{free}`"),
                        _ => format!("take it off; at this setting {}", setting.if_wrong.get().unwrap_or_default()),
                    },
                )
                .measured(Shown::word("wired"), Relation::Equal, Shown::word("empty"))
                .label(empty.span, setting.if_wrong.get().unwrap_or_else(|| "stays empty".to_owned()));
                if let Some(named) = &unit.setting {
                    finding = finding.label(named.span, "the setting in force");
                }
                if let (Some(free), false) = (free, is_jumper) {
                    finding = finding.edit(word.span, free);
                }
                report.find(finding);
            }
        }
    }
}
