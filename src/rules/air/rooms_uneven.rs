//! Rooms settle near one temperature while the thermostat's room is kept.

use crate::figures::figure_id;
use crate::model::Room;
use crate::quantity::{Dimension, show_pair, show_real};
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Why};

/// Spread above which there is advice, °F, and above which there is a warning.
const ADVICE: f64 = 2.0;
const WARNING: f64 = 4.0;

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "AIR033",
        name: "rooms_uneven",
        title: "rooms settle at different temperatures",
        severity: Severity::Advice,
        source: "house standard: 2 °F over the house; from 4 °F on a warning",
        why: Why {
            checks: "The temperature at which each room settles at design while the unit keeps the room of its thermostat: each room's load as a line in its own temperature, its air as the solved ducts deliver it. In summer and in winter. Air and heat that pass between rooms are left out, so that real rooms differ less.",
            on_site: "One room freezes while another swelters, and no setting of the thermostat suits both.",
            fix: "Give each room its part of the air: a balancing orifice in runs that get too much, a shorter run or one more outlet where there is too little; put the thermostat into a room whose load is like the others'.",
        },
    },
    example: Example {
        wrong: r#"room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, cooling sensible 2900 Btu/h, latent 100 Btu/h, heating 2900 Btu/h, outlet n1 in ceiling at 3 ft, 4 ft }
run n1 from main at 5 ft, side south { tube "2 in sound tube", measured 14 ft, bends 2 }"#,
        right: r#"room nook on first { corner 10 ft, 12 ft, size 6 ft x 8 ft, cooling sensible 600 Btu/h, latent 100 Btu/h, heating 900 Btu/h, outlet n1 in ceiling at 3 ft, 4 ft }
run n1 from main at 5 ft, side south { tube "2 in sound tube", measured 14 ft, bends 2 }"#,
    },
    check,
};

fn check(job: &Job<'_>, report: &mut Report) {
    for season in ["summer", "winter"] {
        one(job, season, report);
    }
}

/// The room at one end of the spread.
fn end<'j>(job: &Job<'j>, what: &str, suffix: &str) -> Option<(&'j Room, f64)> {
    let name = job
        .ledger
        .word(&figure_id(["house.", what, "-room", suffix]))?;
    let room = job.model.house.rooms.get(name)?;
    let t = job
        .ledger
        .real(&figure_id(["room.", name, ".temperature", suffix]))?;
    Some((room, t))
}

fn one(job: &Job<'_>, season: &str, report: &mut Report) {
    let suffix = if season == "winter" { "@winter" } else { "" };
    let id = figure_id(["house.spread", suffix]);
    let Some(spread) = job.ledger.real(&id) else {
        // Where the job states nothing that warms the air, winter is not its matter.
        let warmed = season == "summer"
            || job
                .model
                .equipment
                .values()
                .any(|equipment| equipment.kind == "water-coil");
        if !warmed || job.rests_on_airflow(&id) {
            return;
        }
        if let (Some(reason), Some(first)) = (
            job.ledger.reason(&id),
            job.model.house.rooms.values().next(),
        ) {
            report.not_checked(
                &RULE.kind,
                format!("the house in {season}"),
                reason,
                Some(first.span),
            );
        }
        return;
    };
    let mut limit = |name: &str, value: f64, severity| {
        let own = Limit::default_of(value, RULE.kind.source, severity);
        let name = (name, Dimension::TemperatureDifference);
        job.limit(&RULE.kind, name, Relation::AtMost, own, report)
    };
    let advice = limit("spread", ADVICE, Severity::Advice);
    let warning = limit("large-spread", WARNING, Severity::Warning);
    let broken = if spread > warning.value {
        warning
    } else if spread > advice.value {
        advice
    } else {
        return;
    };
    let (Some((warm, warm_t)), Some((cold, cold_t))) =
        (end(job, "warmest", suffix), end(job, "coldest", suffix))
    else {
        return;
    };
    let set = job
        .model
        .job
        .condition(season)
        .and_then(|condition| condition.indoor)
        .map_or(warm_t, |indoor| indoor.value);
    let (worst, other, t) = if (warm_t - set).abs() >= (cold_t - set).abs() {
        (warm, cold, warm_t)
    } else {
        (cold, warm, cold_t)
    };
    let flow = |what: &str| {
        let id = figure_id(["room.", &worst.name, ".", what, suffix]);
        job.ledger.real(&id)
    };
    let help = match (flow("airflow"), flow("airflow-part")) {
        (Some(got), Some(part)) => {
            let (got_text, part_text) = show_pair(got, part, Dimension::AirFlow);
            let how = if got < part {
                "shorter runs or one more outlet there, orifices in runs of rooms that get more than theirs"
            } else {
                "an `orifice` in its runs"
            };
            format!(
                "its part of the air by its load is {}, and it gets {}: {how}",
                part_text.text, got_text.text
            )
        }
        _ => "give each room its part of the air by its load".to_owned(),
    };
    let (found, needed) = show_pair(spread, broken.value, Dimension::TemperatureDifference);
    let band = job
        .ledger
        .real(&figure_id(["house.spread-loads-10", suffix]))
        .map(|far| show_real(far, Dimension::TemperatureDifference));
    let mut finding = Finding::new(
        &RULE.kind,
        worst.span,
        format!(
            "in {season} `{}` settles at {} and `{}` at {} while the thermostat's room is kept",
            warm.name,
            show_real(warm_t, Dimension::Temperature).text,
            cold.name,
            show_real(cold_t, Dimension::Temperature).text
        ),
        help,
    )
    .measured(found, Relation::AtMost, needed)
    .label(
        other.span,
        if t >= set {
            "the coldest room"
        } else {
            "the warmest room"
        },
    );
    if let Some(band) = band {
        finding = finding.label(
            worst.span,
            format!("loads 10 % off can spread the rooms to {}", band.text),
        );
    }
    for stat in job.model.thermostats.values() {
        finding = finding.label(stat.room.span, "the thermostat's room");
    }
    report.find(broken.mark(finding));
}
