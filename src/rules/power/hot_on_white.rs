//! Where a setting has a neutral, the white conductor is the neutral and no other one is.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::power::{is_fed_outside, is_white, setting_of};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR027",
        name: "hot_on_white",
        title: "hot and neutral changed over",
        severity: Severity::Error,
        source: "NEC 200.6, 200.7(C)",
        why: Why {
            checks: "At a setting with a neutral, the white or grey conductor lands on the neutral terminal and not on the line terminal, and no other conductor lands on the neutral.",
            on_site: "The switch in the unit opens the neutral and leaves the motor live: it stands still and still kills.",
            fix: "Change the two conductors over.",
        },
    },
    example: Example {
        wrong: "circuit heater-power to heater { from panel p1, breaker 15 A 1-pole, cable \"14/2 with ground\", measured 20 ft, volts 120, land white on L, land black on N }",
        right: "circuit heater-power to heater { from panel p1, breaker 15 A 1-pole, cable \"14/2 with ground\", measured 20 ft, volts 120, land black on L, land white on N }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let handler = job.model.air_handlers.get(&circuit.unit.value);
        let (hot, neutral, place) = match handler {
            Some(unit) => {
                let Some((_, setting)) =
                    setting_of(unit).filter(|_| !is_fed_outside(job.model, unit))
                else {
                    continue;
                };
                let (Some(hot), Some(neutral)) = (
                    setting.lands.line_1.get(),
                    setting
                        .lands
                        .neutral
                        .as_ref()
                        .and_then(crate::catalog::Stated::get),
                ) else {
                    continue;
                };
                (hot, neutral, Some(setting.lands.span))
            }
            // Other equipment at 120 V marks its leads L and N.
            None if circuit
                .poles
                .as_ref()
                .is_some_and(|poles| poles.value.starts_with('1')) =>
            {
                ("L".to_owned(), "N".to_owned(), None)
            }
            None => continue,
        };
        for landing in &circuit.landings {
            let white = is_white(&landing.conductor.value);
            let other = super::conductor_on_wrong_terminal::is_ground(&landing.conductor.value);
            let wrong = white && landing.terminal.value == hot
                || !white && !other && landing.terminal.value == neutral;
            if !wrong {
                continue;
            }
            let right = if white { &neutral } else { &hot };
            let mut finding = Finding::new(
                &RULE.kind,
                landing.terminal.span,
                format!(
                    "conductor `{}` of circuit `{}` lands on `{}`, which is the {}",
                    landing.conductor.value,
                    circuit.name,
                    landing.terminal.value,
                    if white { "hot one" } else { "neutral" }
                ),
                format!("land it on `{right}`, and the other one here"),
            )
            .measured(
                Shown::word(landing.terminal.value.clone()),
                Relation::Equal,
                Shown::word(right.clone()),
            )
            .edit(landing.terminal.span, right.clone());
            if let Some(span) = place {
                finding = finding.label(span, "the terminals of the setting");
            }
            report.find(finding);
        }
    }
}
