//! The tank takes what still runs to it after the unit has stopped.

use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "DRN031",
        name: "pump_tank_small",
        title: "pump tank too small for what still comes",
        severity: Severity::Warning,
        source: "common practice",
        why: Why {
            checks: "What the tank takes above its switch is at least the water that still comes once the switch has stopped the unit: what is on its way in the drain and what the wet coil gives up.",
            on_site: "The switch trips in time and the tank runs over all the same.",
            fix: "Use a pump with a larger tank, or set a pan under it.",
        },
    },
    example: Example {
        wrong: "pump lift2 { model \"Example condensate pump\", on first, center 8 ft, 4 ft, lift 6 ft, pipe \"3/8 in vinyl tube\", measured 12 ft, check-valve, discharge to laundry-sink, air gap 2 in }",
        right: "pump lift2 { model \"Example condensate pump\", on first, center 8 ft, 4 ft, lift 6 ft, pipe \"3/8 in vinyl tube\", measured 12 ft, check-valve, discharge to laundry-sink, air gap 2 in }",
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for pump in job.model.pumps.values() {
        let id = |what: &str| format!("pump.{}.{what}", pump.name);
        let Some(after) = job.ledger.real(&id("run-off")) else {
            continue;
        };
        let Some(takes) = job.ledger.real(&id("reserve")) else {
            let thing = format!("pump {}", pump.name);
            report.not_known(&RULE.kind, thing, (job.ledger, &id("reserve")), pump.span);
            continue;
        };
        if takes >= after {
            continue;
        }
        let (found, needed) = show_pair(takes, after, Dimension::Volume);
        let words = pump.model.as_ref().map_or(pump.span, |model| model.span);
        let mut finding = Finding::new(
            &RULE.kind,
            words,
            format!(
                "the tank of pump `{}` runs over with the water that comes after its switch has tripped",
                pump.name
            ),
            "use a pump with a larger tank",
        )
        .measured(found, Relation::AtLeast, needed);
        let sheet = pump.model.as_ref();
        let sheet = sheet.and_then(|model| job.catalog.pumps.get(&model.value));
        if let Some(reserve) = sheet.and_then(|sheet| sheet.reserve.as_ref()) {
            finding = finding.label(reserve.span, "what the tank still takes");
        }
        report.find(finding);
    }
}
