//! The seal of a trap is at least half the suction, or the blower draws it out when it starts.

use crate::quantity::{Length, length_text, number_text, show_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN003",
        name: "trap_seal_lost",
        title: "trap whose seal is lost at start-up",
        severity: Severity::Error,
        source: "level balance of the trap under the suction at the pan",
        why: Why {
            checks: "The dip of the trap lies below its weir by at least half the suction at the pan, as a height of water.",
            on_site: "The starting blower pulls the water out of the trap; from then on air comes up the drain and the water stays in the pan.",
            fix: "Make the trap deeper: a seal of half of suction + 1 in.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let Some((trap, _, seal)) = drain.traps().next() else {
            continue;
        };
        let id = |what: &str| format!("drain.{}.{what}", drain.name);
        let Some(least) = job.ledger.length(&id("seal-least")) else {
            let thing = format!("trap of drain {}", drain.name);
            report.not_known(
                &RULE.kind,
                thing,
                (job.ledger, &id("seal-least")),
                trap.span,
            );
            continue;
        };
        if seal.value >= least || super::under_pressure(job, drain) {
            continue;
        }
        let passes = least.round_up_to(Length::sixteenths(1));
        let good = job.ledger.length(&id("seal-practice")).unwrap_or(passes);
        let mut finding = Finding::new(
            &RULE.kind,
            seal.span,
            format!(
                "the trap of drain `{}` loses its water at start-up: its seal is less than half the suction, {} in. w.c.",
                drain.name,
                number_text(least.to_inches() * 2.0, 2)
            ),
            format!("make the trap deeper: `seal {}`", length_text(good)),
        )
        .measured(show_length(seal.value), Relation::AtLeast, show_length(passes))
        .edit(seal.span, length_text(good));
        if let Some((span, words)) = super::suction_place(job, drain) {
            finding = finding.label(span, words);
        }
        report.find(finding);
    }
}
