//! Every terminal of the feed gets its conductor, and the cable has enough of them.

use crate::model::Circuit;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};
use crate::systems::power::{cable_of, is_fed_outside, plate_of, setting_of};

use super::conductor_on_wrong_terminal::is_ground;

/// Conductors of any feed, the ground apart (common practice).
const LEAST: usize = 2;

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

/// Any other unit takes two conductors: two lines, or line and neutral.
fn too_few(job: &Job<'_>, circuit: &Circuit) -> Option<Finding> {
    let (item, cable) = circuit.cable.as_ref().zip(cable_of(job.catalog, circuit))?;
    let plate = plate_of(job.model, job.catalog, circuit)?;
    let count = cable.conductors.get()?.0 as usize;
    (count < LEAST).then(|| {
        Finding::new(
            &RULE.kind,
            item.span,
            format!(
                "the cable of circuit `{}` has too few conductors for `{}`",
                circuit.name, circuit.unit.value
            ),
            format!("use a cable with {LEAST} conductors and ground"),
        )
        .measured(Shown::count(count), Relation::AtLeast, Shown::count(LEAST))
        .label(plate.span, "the plate")
    })
}

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let Some(unit) = job.model.air_handlers.get(&circuit.unit.value) else {
            if let Some(finding) = too_few(job, circuit) {
                report.find(finding);
            }
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
        let ground = lands.ground.get();
        let all_right = circuit.landings.iter().enumerate().all(|(n, landing)| {
            let terminal = &landing.terminal.value;
            let on_ground = ground.as_ref() == Some(terminal);
            let doubled = circuit
                .landings
                .iter()
                .take(n)
                .any(|other| other.terminal.value == *terminal);
            known.contains(terminal) && on_ground == is_ground(&landing.conductor.value) && !doubled
        });
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
            let colours = cable
                .iter()
                .flat_map(|(_, cable)| cable.colours.iter().filter_map(crate::catalog::Stated::get))
                .chain(["bare".to_owned()]);
            let colour = if ground.as_ref() == Some(&terminal) {
                "bare".to_owned()
            } else {
                colours
                    .into_iter()
                    .find(|colour| {
                        !circuit
                            .landings
                            .iter()
                            .any(|landing| landing.conductor.value == *colour)
                    })
                    .unwrap_or_else(|| "…".to_owned())
            };
            let mut finding = Finding::new(
                &RULE.kind,
                circuit.span,
                format!(
                    "nothing of circuit `{}` lands on `{terminal}`",
                    circuit.name
                ),
                format!("add `land {colour} on {terminal}`"),
            )
            .measured(Shown::count(0), Relation::AtLeast, Shown::count(1))
            .label(stated.span, "a terminal of the setting");
            if let Some(last) = circuit.landings.last() {
                let after = Span::new(last.span.file, last.span.end, last.span.end);
                finding = finding.edit(after, format!(", land {colour} on {terminal}"));
            }
            report.find(finding);
        }
    }
}
