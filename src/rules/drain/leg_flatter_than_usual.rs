//! Level legs usually fall 1/4 in per ft.

use crate::quantity::{Dimension, Length, Slope, length_text, show_slope, trade_length};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};
use crate::systems::drain::USUAL_FALL;

use super::leg_too_flat;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN011",
        name: "leg_flatter_than_usual",
        title: "drain leg with less fall than usual",
        severity: Severity::Warning,
        source: "common practice; some inspectors ask for it",
        why: Why {
            checks: "Every level leg of a drain falls 1/4 in per ft, where it falls enough for the code.",
            on_site: "A pipe sags a little between its supports: with 1/8 in per ft the sag holds water, with 1/4 in it does not.",
            fix: "Give the leg the fall named in the report, or set supports closer together and keep it true.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 7/8 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    let least = leg_too_flat::least(job, &mut Report::default()).value;
    let own = Limit::default_of(USUAL_FALL, RULE.kind.source, RULE.kind.severity);
    let usual = job.limit(
        &RULE.kind,
        ("slope", Dimension::Slope),
        Relation::AtLeast,
        own,
        report,
    );
    for drain in job.model.drains.values() {
        for leg in &drain.legs {
            let Some(fall) = leg.fall.filter(|fall| fall.value >= Length::ZERO) else {
                continue;
            };
            let Some(found) = Slope::of(fall.value, leg.length) else {
                continue;
            };
            if found < least || found >= usual.value {
                continue;
            }
            let good = length_text(leg_too_flat::fall_for(usual.value, leg));
            report.find(
                Finding::new(
                    &RULE.kind,
                    fall.span,
                    format!(
                        "leg `{} {}` of drain `{}` falls {}, enough for the code and less than usual",
                        leg.direction.word(),
                        trade_length(leg.length),
                        drain.name,
                        length_text(fall.value)
                    ),
                    format!("write `fall {good}`"),
                )
                .measured(show_slope(found), Relation::AtLeast, show_slope(usual.value))
                .severity(usual.severity)
                .source(usual.source.clone())
                .label(leg.span, "over this length")
                .edit(fall.span, format!("fall {good}")),
            );
        }
    }
}
