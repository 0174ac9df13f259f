//! At the start enough voltage is left for the motor to turn.

use crate::quantity::{Dimension, number_text, show_pair, trade_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};
use crate::systems::power::plate_of;

use super::voltage_left::{mended, running, starting};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR032",
        name: "starting_voltage_low",
        title: "too little voltage left to start the motor",
        severity: Severity::Warning,
        source: "common practice: 15 %, which NEC 695.7 allows the motor of a fire pump, from memory",
        why: Why {
            checks: "At the current of the start, the rotor still at rest, the voltage left at the unit is no less than the one at which the catalog says that its motor starts (`starts-at`): an error where it is less. Where the catalog does not say, no more than 15 % is lost between panel and unit. The power factor of the start is left out: less is lost in fact.",
            on_site: "On a hot afternoon the compressor hums, trips on its overload and tries again, until its winding is burnt; the lights dip each time.",
            fix: "Use thicker cable, or a panel nearer by. A kit for hard starts does not mend a thin feed.",
        },
    },
    example: Example {
        wrong: "catalog \"stiff.yaml\"\noutdoor-unit ou4 { model \"Test 3-ton outdoor, stiff\", at 36 ft, 12 ft, pad 4 in }\ncircuit ou4-power to ou4 { from panel p1, breaker 30 A 2-pole, cable \"10/2 with ground\", measured 240 ft, volts 240 }",
        right: "catalog \"stiff.yaml\"\noutdoor-unit ou4 { model \"Test 3-ton outdoor, stiff\", at 36 ft, 12 ft, pad 4 in }\ncircuit ou4-power to ou4 { from panel p1, breaker 30 A 2-pole, cable \"10/2 with ground\", measured 40 ft, volts 240 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let (Some(length), Some(start)) = (circuit.measured, starting(job, circuit, report)) else {
            continue;
        };
        let run = running(job, circuit, report);
        // Where nothing but a rule of thumb speaks and the running loss is too high already, that is told.
        let told = !start.volts && run.as_ref().is_some_and(|run| !run.passes());
        if start.passes() || told {
            continue;
        }
        let ratio = run.map_or(start.ratio, |run| run.ratio.min(start.ratio));
        let (dimension, relation) = if start.volts {
            (Dimension::Voltage, Relation::AtLeast)
        } else {
            (Dimension::Ratio, Relation::AtMost)
        };
        let (found, needed) = show_pair(start.found, start.limit.value, dimension);
        let plate = plate_of(job.model, job.catalog, circuit);
        let locked = plate.and_then(|plate| plate.loads?.locked_rotor.as_ref());
        let mut finding = mended(job, circuit, (length, ratio), |help| {
            Finding::new(
                &RULE.kind,
                length.span,
                format!(
                    "over {} circuit `{}` leaves `{}` too little voltage to start",
                    trade_length(length.value),
                    circuit.name,
                    circuit.unit.value
                ),
                help,
            )
            .measured(found, relation, needed)
        });
        if let Some((stated, current)) =
            locked.and_then(|stated| Some((stated, stated.get()?.value())))
        {
            let text = format!("it draws {} A at the start", number_text(current, 1));
            finding = finding.label(stated.span, text);
        }
        report.find(start.limit.mark(finding));
    }
}
