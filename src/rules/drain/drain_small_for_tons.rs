//! A drain that several units share grows with their tons.

use crate::quantity::{Length, length_text, number_text, show_length};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN021",
        name: "drain_small_for_tons",
        title: "drain too small for the units that share it",
        severity: Severity::Error,
        source: "IMC Table 307.2.2; IPC Table 314.2.2",
        why: Why {
            checks: "The pipe of a drain that several units run into is as large as the table asks for their tons together: to 20 tons 3/4 in, to 40 1 in, to 90 1 1/4 in, to 125 1 1/2 in, to 250 2 in.",
            on_site: "On the first humid afternoon all coils run at once, and the lowest pan is where the water comes back up.",
            fix: "Use the size named in the report from where the drains join on.",
        },
    },
    example: Example {
        wrong: "drain second from ah.secondary-drain { pipe \"3/4 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
        right: "drain second from ah.secondary-drain { pipe \"1 in PVC\", solvent \"PVC cement\", cleanout, trap drop 2 1/2 in, seal 1 1/4 in, south 4 ft, fall 1 in, discharge to tub, air gap 2 in }",
    },
    check,
};

/// Btu/h of a ton.
const TON: f64 = 12_000.0;

/// Tons to which a size serves, in sixteenths of an inch (IMC Table 307.2.2).
const TABLE: [(f64, i64); 5] = [(20.0, 12), (40.0, 16), (90.0, 20), (125.0, 24), (250.0, 32)];

fn check(job: &Job<'_>, report: &mut Report) {
    for drain in job.model.drains.values() {
        let Some(pipe) = &drain.pipe else { continue };
        let id = |what: &str| format!("drain.{}.{what}", drain.name);
        let (Some(heat), Some(size)) = (
            job.ledger.real(&id("nominal")),
            job.ledger.length(&id("pipe-size")),
        ) else {
            continue;
        };
        let tons = heat / TON;
        let thing = format!("drain {}", drain.name);
        let Some((_, sixteenths)) = TABLE.iter().find(|(most, _)| tons <= *most) else {
            let reason = format!(
                "the table ends at 250 tons, and {} hang on it",
                number_text(tons, 0)
            );
            report.not_checked(&RULE.kind, thing, reason, Some(pipe.span));
            continue;
        };
        let needed = Length::sixteenths(*sixteenths);
        // The smallest size is asked of every drain, by a rule of its own.
        if size >= needed || needed <= Length::sixteenths(12) {
            continue;
        }
        report.find(
            Finding::new(
                &RULE.kind,
                pipe.span,
                format!(
                    "drain `{}` carries the water of {} tons",
                    drain.name,
                    number_text(tons, 1)
                ),
                format!("use pipe of {} or larger", length_text(needed)),
            )
            .measured(show_length(size), Relation::AtLeast, show_length(needed)),
        );
    }
}
