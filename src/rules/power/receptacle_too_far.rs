//! A service receptacle stands within reach of the equipment, on its level.

use crate::model::{Point, Receptacle, Stage};
use crate::quantity::{Dimension, Length, show_length_pair, trade_length};
use crate::rules::described::Trade;
use crate::rules::{Example, Job, Limit, Report, Rule};
use crate::source::{Finding, Kind, Relation, Severity, Shown, Span, Why};

pub(in crate::rules) static RULE: Rule = Rule {
    kind: Kind {
        code: "PWR024",
        name: "receptacle_too_far",
        title: "no service receptacle at the equipment",
        severity: Severity::Error,
        source: "NEC 210.63(A)",
        why: Why {
            checks: "A receptacle of 125 V stands within 25 ft of the middle of each air handler and boiler, on the same story, and of each outdoor unit and chiller, outdoors. For an air handler it is asked for from the stage of the order on, once the trades are described; for the others what the job says is judged.",
            on_site: "The service tech runs a cord from a bedroom, or works by torchlight with a hand drill.",
            fix: "Add a receptacle on the level of the unit, not on the load side of its disconnect.",
        },
    },
    example: Example {
        wrong: "air-handler ah2 { model \"Test 3-ton, flat\", on attic, center 60 ft, 6 ft, discharge toward east, stand 10 in, tap 4 }",
        right: "air-handler ah2 { model \"Test 3-ton, flat\", on attic, center 60 ft, 6 ft, discharge toward east, stand 10 in, tap 4 }\nreceptacle r2 on attic { at 62 ft, 9 ft, gfci }",
    },
    check,
};

/// Farthest from the equipment (NEC 210.63(A)).
const FARTHEST: Length = Length::inches(300);

/// A unit that service comes to.
struct Unit<'a> {
    name: &'a str,
    span: Span,
    point: Option<Point>,
    story: Option<&'a str>,
    handler: bool,
}

fn units<'a>(job: &Job<'a>) -> Vec<Unit<'a>> {
    let handlers = job.model.air_handlers.values().map(|unit| Unit {
        name: &unit.name,
        span: unit.span,
        point: unit.cabinet.map(|cabinet| cabinet.center()),
        story: Some(&unit.story),
        handler: true,
    });
    let others = job
        .model
        .equipment
        .values()
        .filter(|unit| matches!(unit.kind, "outdoor-unit" | "chiller" | "boiler"))
        .map(|unit| Unit {
            name: &unit.name,
            span: unit.span,
            point: unit.point,
            story: unit.story.as_deref(),
            handler: false,
        });
    handlers.chain(others).collect()
}

/// Whether a receptacle stands on the level of a unit.
fn level(unit: &Unit<'_>, receptacle: &Receptacle) -> bool {
    match unit.story {
        Some(story) => receptacle.story == story && !receptacle.outdoors,
        None => receptacle.outdoors,
    }
}

fn check(job: &Job<'_>, report: &mut Report) {
    let all: Vec<&Receptacle> = job.model.receptacles.values().collect();
    for unit in units(job) {
        if job.model.is_misread(unit.name) || all.iter().any(|one| one.flawed) {
            continue;
        }
        let there: Vec<&Receptacle> = all
            .iter()
            .copied()
            .filter(|receptacle| level(&unit, receptacle))
            .collect();
        if there.is_empty() {
            missing(job, &unit, report);
            continue;
        }
        let Some(point) = unit.point else { continue };
        if unit.handler && is_astray(job, point) {
            continue;
        }
        let distances: Option<Vec<(Length, &Receptacle)>> = there
            .iter()
            .map(|one| Some((one.point?.plan_distance(point), *one)))
            .collect();
        // One without a place may be the near one.
        let Some((distance, nearest)) =
            distances.and_then(|all| all.into_iter().min_by_key(|(distance, _)| *distance))
        else {
            continue;
        };
        let own = Limit::default_of(FARTHEST, RULE.kind.source, RULE.kind.severity);
        let most = job.limit(
            &RULE.kind,
            ("distance", Dimension::Length),
            Relation::AtMost,
            own,
            report,
        );
        if distance <= most.value {
            continue;
        }
        let (found, needed) = show_length_pair(distance, most.value);
        report.find(
            most.mark(
                Finding::new(
                    &RULE.kind,
                    nearest.span,
                    format!(
                        "receptacle `{}` is the nearest to `{}` and too far from it",
                        nearest.name, unit.name
                    ),
                    format!("set one within {} of the unit", trade_length(most.value)),
                )
                .measured(found, Relation::AtMost, needed)
                .label(unit.span, "the unit"),
            ),
        );
    }
}

/// Whether a point lies so far outside the rooms that its place is reported already.
fn is_astray(job: &Job<'_>, point: Point) -> bool {
    let mut rooms = job
        .model
        .house
        .rooms
        .values()
        .filter_map(|room| room.extent)
        .peekable();
    let far = Length::feet(15);
    rooms.peek().is_some()
        && !rooms.any(|extent| {
            let (low, high) = (extent.low, extent.high);
            low.x - far <= point.x
                && point.x <= high.x + far
                && low.y - far <= point.y
                && point.y <= high.y + far
        })
}

/// No receptacle on the level at all: a fault at an air handler, else somebody else's that the job does not name.
fn missing(job: &Job<'_>, unit: &Unit<'_>, report: &mut Report) {
    let asked = unit.handler
        && job.model.job.stage >= Stage::Order
        && job.misses(Trade::Power)
        && !job.model.circuits.is_empty();
    if !asked {
        let reason = if unit.story.is_some() {
            "no receptacle is described on its level"
        } else {
            "no receptacle is described outdoors"
        };
        report.not_checked(&RULE.kind, unit.name, reason, Some(unit.span));
        return;
    }
    let at = unit.point.map_or_else(String::new, |point| {
        format!("at {}, {}, ", trade_length(point.x), trade_length(point.y))
    });
    report.find(
        Finding::new(
            &RULE.kind,
            unit.span,
            format!(
                "no service receptacle stands on the level of `{}`",
                unit.name
            ),
            format!(
                "add `receptacle {}-outlet on {} {{ {at}gfci }}`",
                unit.name,
                unit.story.unwrap_or_default()
            ),
        )
        .measured(Shown::count(0), Relation::AtLeast, Shown::count(1)),
    );
}
