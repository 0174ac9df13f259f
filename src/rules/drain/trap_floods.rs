//! The drop from the pan to the trap's weir is more than the suction, or the water stands in the pan.

use crate::quantity::{Length, length_text, number_text, show_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN002",
        name: "trap_floods",
        title: "trap that lets the pan flood",
        severity: Severity::Error,
        source: "level balance of the trap under the suction at the pan",
        why: Why {
            checks: "The drop from the pan's outlet to the trap's weir is more than the suction at the pan, as a height of water, with a clean and with a dirty filter.",
            on_site: "While the blower runs the water can't leave: it fills the pan, blows into the duct, and runs through the ceiling.",
            fix: "Set the trap lower: suction + 1 in of drop, and half of that as seal. Hang the unit higher if there is no room.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let Some((trap, drop, seal)) = drain.traps().next() else {
            continue;
        };
        let id = |what: &str| format!("drain.{}.{what}", drain.name);
        let Some(least) = job.ledger.length(&id("drop-least")) else {
            let thing = format!("trap of drain {}", drain.name);
            report.not_known(
                &RULE.kind,
                thing,
                (job.ledger, &id("drop-least")),
                trap.span,
            );
            continue;
        };
        if drop.value > least || super::under_pressure(job, drain) {
            continue;
        }
        let sixteenth = Length::sixteenths(1);
        let passes = least.round_down_to(sixteenth) + sixteenth;
        let good = job.ledger.length(&id("drop-practice")).unwrap_or(passes);
        let good_seal = job
            .ledger
            .length(&id("seal-practice"))
            .unwrap_or(seal.value);
        let mut help = format!("set the trap lower: `drop {}`", length_text(good));
        if seal.value < good_seal {
            help = format!(
                "set the trap lower: `drop {}, seal {}`",
                length_text(good),
                length_text(good_seal)
            );
        }
        let mut finding = Finding::new(
            &RULE.kind,
            drop.span,
            format!(
                "the pan floods through the trap of drain `{}`: its drop is no more than the suction, {} in. w.c.",
                drain.name,
                number_text(least.to_inches(), 2)
            ),
            help,
        )
        .measured(show_length(drop.value), Relation::AtLeast, show_length(passes))
        .edit(drop.span, length_text(good));
        if seal.value < good_seal {
            finding = finding.edit(seal.span, length_text(good_seal));
        }
        if let Some((span, words)) = super::suction_place(job, drain) {
            finding = finding.label(span, words);
        }
        report.find(finding);
    }
}
