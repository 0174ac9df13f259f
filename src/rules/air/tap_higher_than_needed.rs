//! The tap is the lowest that does it.

use crate::catalog::SafetyType;
use crate::figures::figure_id;
use crate::model::AirHandler;
use crate::rules::{Example, Job, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Why};

use super::tap::tap_holds;

/// How far below its need a room or outlet may stay, as balanced within 10 %.
const SHORT: f64 = 0.9;
/// Margin of the coil above the cut-out where the sheet states no closing temperature, °F.
const USUAL_MARGIN: f64 = 4.0;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR038",
        name: "tap_higher_than_needed",
        title: "a lower tap would do",
        severity: Severity::Advice,
        source: "common practice: the lowest tap that keeps what is asked",
        why: Why {
            checks: "Whether a tap with less air keeps all that the set tap keeps: airflow a ton and plenum pressure in the catalog's ranges, total, sensible and latent capacity at the load, every room within 10 % of the air that its load needs in summer and winter, every tube above its least, the heat that the rooms lose, the coil clear of its freeze cut-out, with a dirty filter too.",
            on_site: "The blower draws more power and makes more noise than the house needs, and the coil takes less moisture out of the air.",
            fix: "Set the lower tap.",
        },
    },
    example: Example {
        wrong: "air-handler ah { model \"Test 3-ton, flat\", on attic, center 6 ft, 6 ft, discharge toward east, stand 10 in, tap 5 }",
        right: "air-handler ah { model \"Test 3-ton, flat\", on attic, center 6 ft, 6 ft, discharge toward east, stand 10 in, tap 4 }",
    },
    check,
};

/// The margin that the coil keeps above the temperature at which the cut-out opens.
fn margin_asked(unit: &AirHandler) -> f64 {
    let of = |stated: &Option<crate::catalog::Stated<crate::quantity::Temperature>>| {
        Some(stated.as_ref()?.get()?.value())
    };
    unit.sheet
        .safeties
        .values()
        .find(|safety| safety.type_of.get() == Some(SafetyType::Freeze))
        .and_then(|safety| Some(of(&safety.closes)? - of(&safety.opens)?))
        .filter(|margin| *margin > 0.0)
        .unwrap_or(USUAL_MARGIN)
}

/// Whether what the coil gives at a tap meets the load.
fn coil_does(job: &Job<'_>, unit: &AirHandler, tap: &str) -> bool {
    let at = |what: &str| {
        let id = figure_id(["coil.", &unit.name, ".", what, "@summer.tap", tap]);
        job.ledger.real(&id)
    };
    let load = |what: &str| {
        job.ledger
            .real(&figure_id(["load.", &unit.name, ".", what]))
    };
    let gives = ["total", "sensible", "latent"]
        .into_iter()
        .all(|what| at(what).zip(load(what)).is_some_and(|(a, b)| a >= b));
    let in_table = ["airflow", "outdoor", "dry-bulb", "wet-bulb"]
        .into_iter()
        .all(|what| at(&format!("beyond-{what}")).is_none());
    let clear = at("freeze-margin").is_some_and(|margin| margin >= margin_asked(unit));
    gives && in_table && clear
}

/// Whether rooms and tubes keep their air when each keeps `kept` of it.
fn rooms_keep(job: &Job<'_>, unit: &AirHandler, kept: f64) -> bool {
    let real = |id: String| job.ledger.real(&id);
    let runs = job.model.runs.values().filter(|run| {
        let own = job.model.unit_of(&run.trunk.value);
        own.is_some_and(|own| own.name == unit.name)
    });
    let mut any = false;
    for run in runs {
        any = true;
        let least = run
            .tube
            .as_ref()
            .and_then(|tube| job.catalog.tubes.get(&tube.value)?.airflow.get())
            .map(|range| range.least.value() * SHORT);
        let (Some(flow), Some(least)) = (real(figure_id(["run.", &run.name, ".airflow"])), least)
        else {
            return false;
        };
        if flow * kept < least {
            return false;
        }
    }
    let rooms = job.model.house.rooms.values().all(|room| {
        let of = |what: &str| real(figure_id(["room.", &room.name, ".", what]));
        let winter = room.heating.is_none()
            || room.outlets.is_empty()
            || of("share@winter").is_some_and(|share| share * kept >= 100.0 * SHORT);
        let summer = room.sensible.is_none()
            || room.outlets.is_empty()
            || of("share").is_some_and(|share| share * kept >= 100.0 * SHORT);
        winter && summer
    });
    // Where rooms lose heat and what warms the air is not known, nothing can be promised.
    let cold = job
        .model
        .house
        .rooms
        .values()
        .any(|room| room.heating.is_some());
    let heat = !cold
        || real(figure_id(["load.", &unit.name, ".heating-share"]))
            .is_some_and(|share| share * kept >= 100.0);
    let dirty = real(figure_id(["air-handler.", &unit.name, ".airflow-dirty"]))
        .zip(real(figure_id(["coil.", &unit.name, ".freeze-airflow"])))
        .is_none_or(|(dirty, freezes)| dirty * kept > freezes);
    any && rooms && heat && dirty
}

fn check(job: &Job<'_>, report: &mut Report) {
    for unit in job.model.air_handlers.values().filter(|unit| !unit.flawed) {
        let Some(set) = &unit.tap else { continue };
        let at = |what: &str, tap: &str| {
            let id = figure_id(["air-handler.", &unit.name, ".", what, "@summer.tap", tap]);
            job.ledger.real(&id)
        };
        // A set tap that does not keep them has its own findings.
        if !tap_holds(job, unit, &set.value)
            || !coil_does(job, unit, &set.value)
            || !rooms_keep(job, unit, 1.0)
        {
            continue;
        }
        let lowest = unit
            .sheet
            .blower
            .taps
            .keys()
            .filter_map(|tap| Some((at("airflow", tap)?, at("airflow-kept", tap)? / 100.0, tap)))
            .filter(|(_, kept, tap)| {
                *kept < 1.0
                    && tap_holds(job, unit, tap)
                    && coil_does(job, unit, tap)
                    && rooms_keep(job, unit, *kept)
            })
            .min_by(|a, b| a.0.total_cmp(&b.0));
        let Some((_, _, tap)) = lowest else { continue };
        report.find(
            Finding::new(
                &RULE.kind,
                set.span,
                format!(
                    "tap {tap} of `{}` keeps all that tap {} keeps",
                    unit.name, set.value
                ),
                format!("write `tap {tap}`"),
            )
            .measured(
                Shown::word(format!("tap {}", set.value)),
                Relation::AtMost,
                Shown::word(format!("tap {tap}")),
            )
            .edit(set.span, tap.clone()),
        );
    }
}
