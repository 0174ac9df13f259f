//! The cooling is not so large that it runs in short bursts.

use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Kind, Relation, Severity, Why};

use super::against::{Against, compare, own};

/// Most of the load that a unit of one stage should have, %.
const ONE_STAGE: f64 = 115.0;
/// The same for two stages.
const TWO_STAGES: f64 = 120.0;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "SIZ002",
        name: "cooling_too_large",
        title: "cooling larger than the load",
        severity: Severity::Advice,
        source: "ACCA Manual S (2014), Table N2; the figures from memory",
        why: Why {
            checks: "The total capacity of the coil at the solved airflow and summer design against the loads of its rooms with what the ducts gain: at most 115 % with one stage of cooling, 120 % with two.",
            on_site: "The unit runs in short bursts, takes out little moisture, and rooms far from the thermostat drift.",
            fix: "Choose the next smaller unit, or one with stages; a coil is held small by a lower airflow too.",
        },
    },
    example: Example {
        wrong: r#"room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, cooling sensible 90 Btu/h, latent 10 Btu/h, outlet n1 in ceiling at 3 ft, 4 ft }
run n1 from main at 5 ft, side south { tube "2 in sound tube", measured 14 ft, bends 2 }"#,
        right: r#"room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, cooling sensible 900 Btu/h, latent 100 Btu/h, outlet n1 in ceiling at 3 ft, 4 ft }
run n1 from main at 5 ft, side south { tube "2 in sound tube", measured 14 ft, bends 2 }"#,
    },
    check,
};

/// Stages of the job's outdoor units: of one unit to one air handler, else the fewest.
fn stages(job: &Job<'_>) -> u32 {
    job.model
        .equipment
        .values()
        .filter(|equipment| equipment.kind == "outdoor-unit")
        .filter_map(|equipment| {
            let sheet = job
                .catalog
                .outdoor_units
                .get(&equipment.model.as_ref()?.value)?;
            sheet.stages.get().map(|stages| stages.0)
        })
        .min()
        .unwrap_or(1)
}

fn check(job: &Job<'_>, report: &mut Report) {
    let (most, or) = if stages(job) > 1 {
        (TWO_STAGES, "")
    } else {
        (ONE_STAGE, " or one with stages")
    };
    let help = format!(
        "choose a smaller model{or}, or a lower `tap` within its range; then look at the loads again"
    );
    for unit in job.model.air_handlers.values().filter(|unit| !unit.flawed) {
        let what = Against {
            kind: &RULE.kind,
            gives: format!("coil.{}.total", unit.name),
            asked: format!("load.{}.total", unit.name),
            share: format!("load.{}.total-share", unit.name),
            relation: Relation::AtMost,
            own: own(most, RULE.kind.source, Severity::Advice),
            message: &|name| format!("`{name}` takes out more heat than the load asks"),
            help: &help,
            says: false,
        };
        compare(job, (&unit.name, unit.span), what, report);
    }
}
