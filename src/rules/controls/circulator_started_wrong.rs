//! A circulator is started by a relay that the call for its own coil pulls in, by a contact that is free for it.

use crate::catalog::Role;
use crate::model::{Circulator, WaterLoop};
use crate::quantity::{Dimension, show_pair};
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};
use crate::systems::controls::handlers_of;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "CTL040",
        name: "circulator_started_wrong",
        title: "circulator on another unit's relay or on a taken contact",
        severity: Severity::Error,
        source: "common practice; NEC 725.136 for mains and Class 2 conductors on one contact",
        why: Why {
            checks: "The relay that starts a circulator belongs to the air handler whose coil the circulator feeds, and has a contact that no control wire lands on and that its sheet lets break the voltage of the circulator's circuit.",
            on_site: "The upstairs thermostat calls for heat and the downstairs loop runs; or a contact made for 24 V breaks the motor's current, and the mains reaches the thermostat wire.",
            fix: "Name the relay that stands free for this circulator, or add one.",
        },
    },
    example: Example {
        wrong: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, up 9 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }
circulator c1 in hot { model "Test circulator", started by heat-relay }"#,
        right: r#"water-coil wc on ah { model "Example medium water coil", water 160 F, flow 4 gpm, freeze-protection circulation }
water-pipe hot from heater to wc { pipe "3/4 in copper L", west 20 ft, up 9 ft }
water-pipe back from wc to heater { pipe "3/4 in copper L", vent, east 2 ft, down 10 ft }
relay pump-relay { model "Test relay" }
cable starts from heat-relay to pump-relay { type "18/2", wire red from heat-relay.A1 to pump-relay.A1, wire white from heat-relay.A2 to pump-relay.A2 }
circulator c1 in hot { model "Test circulator", started by pump-relay }"#,
    },
    check,
};

/// The air handlers whose coils a circulator feeds.
fn fed_by(job: &Job<'_>, circulator: &Circulator) -> Vec<String> {
    let water = &job.model.water;
    let of = |found: &WaterLoop| found.pipes().contains(&circulator.pipe.value.as_str());
    water
        .loops
        .iter()
        .filter(|found| of(found))
        .flat_map(WaterLoop::coils)
        .filter_map(|coil| water.coils.get(coil))
        .map(|coil| coil.unit.value.clone())
        .collect()
}

/// Whether a relay has a contact pair on which no control wire lands; none where its terminals are not known.
fn stands_free(job: &Job<'_>, relay: &str) -> Option<bool> {
    let net = job.wiring.net;
    let with = |wanted: &[Role]| -> Vec<bool> {
        net.points()
            .filter(|(_, point)| point.unit() == Some(relay))
            .filter(|(_, point)| point.role().is_some_and(|role| wanted.contains(&role)))
            .map(|(n, _)| net.is_wired(n))
            .collect()
    };
    let common = with(&[Role::ContactCommon]);
    let switched = with(&[Role::ContactOpen]);
    (!common.is_empty()).then(|| common.contains(&false) && switched.contains(&false))
}

/// The voltage that a circulator is fed at, where its contact is made for less: both, the contact's first.
fn over_contact(job: &Job<'_>, circulator: &Circulator, relay: &str) -> Option<(f64, f64)> {
    let item = &job.model.equipment.get(relay)?.model.as_ref()?.value;
    let breaks = job.catalog.relays.get(item)?.breaks.get()?.value();
    let mut circuits = job.model.circuits.values();
    let own = circuits.find(|circuit| circuit.serves(&circulator.name))?;
    let volts = own.volts?.value;
    (volts > breaks).then_some((breaks, volts))
}

/// A relay of one of `units` that nothing else is started by and whose contact stands free.
fn other_relay(job: &Job<'_>, units: &[String]) -> Option<String> {
    let taken = |name: &str| {
        let mut all = job.model.water.circulators.values();
        all.any(|one| one.relay.as_ref().is_some_and(|relay| relay.value == name))
    };
    let mut relays = job
        .model
        .equipment
        .values()
        .filter(|unit| unit.kind == "relay");
    relays
        .find(|relay| {
            !taken(&relay.name)
                && stands_free(job, &relay.name) == Some(true)
                && handlers_of(job.model, &relay.name)
                    .iter()
                    .any(|unit| units.contains(unit))
        })
        .map(|relay| relay.name.clone())
}

fn check(job: &Job<'_>, report: &mut Report) {
    if job.wiring.net.flawed || job.model.cables.is_empty() {
        return;
    }
    for circulator in job.model.water.circulators.values() {
        let Some(relay) = &circulator.relay else {
            continue;
        };
        let units = fed_by(job, circulator);
        // Two coils in one unit are told there.
        let crowded = |unit: &String| {
            let coils = job.model.water.coils.values();
            coils.filter(|coil| coil.unit.value == *unit).count() > 1
        };
        if units.iter().any(crowded) {
            continue;
        }
        let owners = handlers_of(job.model, &relay.value);
        let strange = !units.is_empty() && !owners.iter().any(|unit| units.contains(unit));
        let taken = stands_free(job, &relay.value) == Some(false);
        let message = if strange {
            Some(format!(
                "`{}` feeds the coil of `{}` and is started by `{}`, which `{}` calls",
                circulator.name,
                units.join("`, `"),
                relay.value,
                owners.join("`, `")
            ))
        } else if taken {
            Some(format!(
                "`{}` is started by `{}`, whose contact carries control wires already",
                circulator.name, relay.value
            ))
        } else {
            None
        };
        if let (None, Some((breaks, volts))) =
            (&message, over_contact(job, circulator, &relay.value))
        {
            let (found, needed) = show_pair(breaks, volts, Dimension::Voltage);
            report.find(
                Finding::new(
                    &RULE.kind,
                    relay.span,
                    format!(
                        "the contact of `{}` breaks {} at most, and `{}` is fed at {}",
                        relay.value, found.text, circulator.name, needed.text
                    ),
                    format!(
                        "give `{}` a relay whose sheet lets its contact break {}",
                        relay.value, needed.text
                    ),
                )
                .measured(found, Relation::AtLeast, needed),
            );
        }
        let Some(message) = message else { continue };
        let other = other_relay(job, &units);
        let help = other.as_ref().map_or_else(
            || {
                format!(
                    "add a relay for `{}`, its coil beside that of the call for heat",
                    circulator.name
                )
            },
            |other| format!("write `started by {other}`"),
        );
        let needed = other
            .clone()
            .unwrap_or_else(|| "a relay of its own".to_owned());
        let mut finding = Finding::new(&RULE.kind, relay.span, message, help).measured(
            Shown::word(relay.value.clone()),
            Relation::Equal,
            Shown::word(needed),
        );
        if let Some(other) = other {
            finding = finding.edit(relay.span, other);
        }
        report.find(finding);
    }
}
