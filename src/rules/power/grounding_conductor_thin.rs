//! The grounding conductor grows with conductors that are thicker than they have to be.

use crate::quantity::number_text;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::power::{cable_of, edition_of};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR028",
        name: "grounding_conductor_thin",
        title: "grounding conductor too thin",
        severity: Severity::Error,
        source: "NEC 250.122(A), (B), Table 250.122",
        why: Why {
            checks: "The ground in the cable is as thick as Table 250.122 asks for the breaker, and grows in proportion where the conductors are thicker than the breaker asks for in that heat, for a long way for instance. It is never asked for thicker than the conductors.",
            on_site: "Over a long thick feed the thin ground lets too little current back, and the breaker takes seconds where it should take none.",
            fix: "Use a cable whose ground is as thick as the report asks, or thinner conductors.",
        },
    },
    example: Example {
        wrong: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"8/2 with ground\", measured 62 ft, volts 240 }",
        right: "circuit ah-power to ah { from panel p1, breaker 15 A 2-pole, cable \"10/2 with ground\", measured 62 ft, volts 240 }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for circuit in job.model.circuits.values() {
        let (Some(item), Some(cable)) = (&circuit.cable, cable_of(job.catalog, circuit)) else {
            continue;
        };
        let of = |what: &str| job.ledger.real(&format!("circuit.{}.{what}", circuit.name));
        let (Some(ground), Some(needed)) = (of("ground"), of("ground-needed")) else {
            continue;
        };
        // The thicker gauge has the smaller number.
        if ground <= needed {
            continue;
        }
        let words = |gauge: f64| Shown::word(format!("{} AWG", number_text(gauge, 0)));
        let mut finding = Finding::new(
            &RULE.kind,
            item.span,
            format!(
                "the ground in the cable of circuit `{}` is too thin for its breaker and conductors",
                circuit.name
            ),
            format!(
                "use a cable with a ground of {} AWG, or conductors no thicker than the breaker asks for",
                number_text(needed, 0)
            ),
        )
        .measured(words(ground), Relation::Equal, words(needed))
        .source(format!(
            "NEC {}, 250.122(A), (B), Table 250.122",
            edition_of(job.model).year()
        ))
        .label(cable.ground.span, "the ground in the catalog");
        if let Some(breaker) = circuit.breaker {
            finding = finding.label(breaker.span, "the breaker");
        }
        report.find(finding);
    }
}
