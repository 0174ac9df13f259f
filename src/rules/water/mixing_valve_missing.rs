//! A water heater that heats the house does not scald at the taps.

use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "HYD015",
        name: "mixing_valve_missing",
        title: "water heater above 140 °F without a mixing valve",
        severity: Severity::Error,
        source: "IPC 501.2; IRC P2802.2 (the number from memory)",
        why: Why {
            checks: "A water heater used for space heat that is set above 140 °F has a mixing valve that holds the taps to 140 °F or less.",
            on_site: "Water of 150 °F burns skin in a second or two.",
            fix: "Set a listed mixing valve (ASSE 1017) at the heater's hot outlet to the taps, or set the heater to 140 °F.",
        },
    },
    example: Example {
        wrong: r#"boiler tank { model "Test boiler", on first, center 20 ft, 10 ft, water 150 F, kind water-heater }"#,
        right: r#"boiler tank { model "Test boiler", on first, center 20 ft, 10 ft, water 150 F, kind water-heater, mixing-valve }"#,
    },
    check,
};

/// Hottest water at the taps without one, °F.
const MOST: f64 = 140.0;

fn check(job: &Job<'_>, report: &mut Report) {
    for boiler in job
        .model
        .water
        .boilers
        .values()
        .filter(|boiler| !boiler.flawed)
    {
        let heater = boiler
            .kind
            .as_ref()
            .filter(|kind| kind.value == "water-heater");
        let (Some(kind), None) = (heater, boiler.mixing_valve) else {
            continue;
        };
        let Some(water) = boiler.water else {
            report.not_checked(
                &RULE.kind,
                format!("boiler {}", boiler.name),
                "the temperature that it is set to is not known",
                Some(boiler.span),
            );
            continue;
        };
        if water.value <= MOST {
            continue;
        }
        let (found, needed) = show_pair(water.value, MOST, Dimension::Temperature);
        report.find(
            Finding::new(
                &RULE.kind,
                water.span,
                format!(
                    "water heater `{}` is set above 140 °F, and no mixing valve holds the taps",
                    boiler.name
                ),
                format!(
                    "write `mixing-valve` in the block of `{}`, or `water 140 F`",
                    boiler.name
                ),
            )
            .measured(found, Relation::AtMost, needed)
            .label(kind.span, "a water heater"),
        );
    }
}
