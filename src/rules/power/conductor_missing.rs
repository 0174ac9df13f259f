//! Every terminal of the feed gets its conductor, and the cable has enough of them.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::power::{cable_of, is_fed_outside, setting_of};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR013",
        name: "conductor_missing",
        title: "feed terminal without a conductor",
        severity: Severity::Error,
        source: "the equipment's catalog; NEC 110.3(B)",
        why: Why {
            checks: "The cable has as many conductors as the setting has line terminals, and where the job says how the feed lands, each of those terminals and the ground get one.",
            on_site: "The blower does not run, or runs on a cabinet that nothing grounds.",
            fix: "Land a conductor on the terminal named in the report, or use a cable with enough conductors.",
        },
    },
    example: Example {
        wrong: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240, land black on L1, land white on L2 }",
        right: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"14/2 with ground\", measured 62 ft, volts 240, land black on L1, land white on L2, land bare on GND }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let Some(unit) = job.model.air_handlers.get(&circuit.unit.value) else {
            continue;
        };
        let Some((name, setting)) = setting_of(unit).filter(|_| !is_fed_outside(job.model, unit))
        else {
            continue;
        };
        let lands = &setting.lands;
        let lines: Vec<_> = [
            Some(&lands.line_1),
            lands.line_2.as_ref(),
            lands.neutral.as_ref(),
        ]
        .into_iter()
        .flatten()
        .collect();
        let cable = circuit.cable.as_ref().zip(cable_of(job.catalog, circuit));
        if let Some((item, count)) =
            cable.and_then(|(item, cable)| Some((item, cable.conductors.get()?.0 as usize)))
            && count < lines.len()
        {
            report.find(
                Finding::new(
                    &RULE.kind,
                    item.span,
                    format!(
                        "the cable of circuit `{}` has too few conductors for setting `{name}`",
                        circuit.name
                    ),
                    format!("use a cable with {} conductors and ground", lines.len()),
                )
                .measured(
                    Shown::count(count),
                    Relation::AtLeast,
                    Shown::count(lines.len()),
                )
                .label(lands.span, "the terminals of the setting"),
            );
            continue;
        }
        // Without any landing the job leaves it to the sheet; with a wrong one, that is reported.
        let known: Vec<String> = lines
            .iter()
            .copied()
            .chain([&lands.ground])
            .filter_map(crate::catalog::Stated::get)
            .collect();
        let all_right = circuit
            .landings
            .iter()
            .all(|landing| known.contains(&landing.terminal.value));
        if circuit.landings.is_empty() || circuit.flawed || !all_right {
            continue;
        }
        for stated in lines.into_iter().chain([&lands.ground]) {
            let Some(terminal) = stated.get() else {
                continue;
            };
            if circuit
                .landings
                .iter()
                .any(|landing| landing.terminal.value == terminal)
            {
                continue;
            }
            report.find(
                Finding::new(
                    &RULE.kind,
                    circuit.span,
                    format!(
                        "nothing of circuit `{}` lands on `{terminal}`",
                        circuit.name
                    ),
                    format!("add `land … on {terminal}` with the conductor's colour"),
                )
                .measured(Shown::count(0), Relation::AtLeast, Shown::count(1))
                .label(stated.span, "a terminal of the setting"),
            );
        }
    }
}
