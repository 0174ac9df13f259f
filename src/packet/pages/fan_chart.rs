//! The fan chart: the curve of every tap in the job's air, what the ducts take, and where each tap works.

use super::fan_axes::Axes;
use super::source::PageSource;
use crate::catalog::{Stated, Tap};
use crate::figures::Figure;
use crate::model::AirHandler;
use crate::packet::page::{Block, Column, Fact, Page, Table, Trade};
use crate::packet::scene::{Anchor, Fill, Lettering, Pen, Point, Scene};
use crate::packet::text::{Text, say};

/// Size of the chart in points.
const WIDE: f64 = 490.0;
const HIGH: f64 = 300.0;
/// Standard air, lb/ft³, at which the catalog's curves are rated.
const STANDARD: f64 = 0.075;
/// Points of the system's curve.
const SAMPLES: usize = 48;

/// A tap as it is drawn.
struct Drawn {
    name: String,
    /// Flow and pressure in the job's air, by flow.
    curve: Vec<(f64, f64)>,
    /// Where it works.
    works: Option<(f64, f64)>,
    set: bool,
}

fn curve(tap: &Tap, rated: f64) -> Vec<(f64, f64)> {
    let mut points: Vec<(f64, f64)> = tap
        .points
        .iter()
        .flatten()
        .filter_map(Stated::get)
        .map(|point| (point.flow.value(), point.pressure.value() * rated))
        .collect();
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    let held = tap.holds.as_ref().and_then(Stated::get);
    let up_to = tap.up_to.as_ref().and_then(Stated::get);
    if let (true, Some(flow), Some(up_to)) = (points.is_empty(), held, up_to) {
        points = vec![(flow.value(), 0.0), (flow.value(), up_to.value() * rated)];
    }
    points
}

fn taps(source: &PageSource<'_>, unit: &AirHandler) -> Vec<Drawn> {
    let density = source.ledger.real("air.supply-density");
    let rated = density.map_or(1.0, |density| density / STANDARD);
    let set = unit.tap.as_ref().map(|tap| tap.value.as_str());
    let of = |what: &str, tap: &str| {
        let id = format!("air-handler.{}.{what}@summer.tap{tap}", unit.name);
        source.ledger.real(&id)
    };
    let taps = unit.sheet.blower.taps.iter();
    taps.map(|(name, tap)| Drawn {
        name: name.clone(),
        curve: curve(tap, rated),
        works: of("airflow", name).zip(of("external-static", name)),
        set: set == Some(name.as_str()),
    })
    .filter(|tap| tap.curve.len() > 1)
    .collect()
}

/// What the ducts take at a flow: through the solved points, by the power of flow that the two nearest give;
/// by the square where one is solved.
fn system_at(solved: &[(f64, f64)], flow: f64) -> Option<f64> {
    let after = solved.partition_point(|(q, _)| *q <= flow);
    let last = solved.len().checked_sub(2);
    let low = after.checked_sub(1)?.min(last.unwrap_or(0));
    let (q1, p1) = *solved.get(low)?;
    let power = match solved.get(low + 1) {
        Some((q2, p2)) if *q2 > q1 * 1.001 && p1 > 0.0 && *p2 > 0.0 => {
            libm::log(p2 / p1) / libm::log(q2 / q1)
        }
        _ => 2.0,
    };
    Some(p1 * libm::pow(flow / q1, power))
}

fn system(taps: &[Drawn], axes: &Axes) -> Vec<Point> {
    let mut solved: Vec<(f64, f64)> = taps
        .iter()
        .filter_map(|tap| tap.works)
        .filter(|(flow, pressure)| *flow > 0.0 && *pressure > 0.0)
        .collect();
    solved.sort_by(|a, b| a.0.total_cmp(&b.0));
    let Some(least) = solved.first().copied() else {
        return Vec::new();
    };
    let (most, top) = axes.ends();
    let mut flows: Vec<f64> = (0..=SAMPLES)
        .map(|n| most * n as f64 / SAMPLES as f64)
        .chain(solved.iter().map(|(flow, _)| *flow))
        .collect();
    flows.sort_by(f64::total_cmp);
    let mut points = Vec::new();
    for flow in flows {
        let pressure = if flow < least.0 {
            system_at(&[least], least.0).map(|p| p * (flow / least.0) * (flow / least.0))
        } else {
            system_at(&solved, flow)
        };
        match pressure {
            Some(pressure) if pressure <= top => points.push(axes.at(flow, pressure)),
            _ => break,
        }
    }
    points
}

fn chart(source: &PageSource<'_>, unit: &AirHandler) -> Option<Scene> {
    let taps = taps(source, unit);
    if taps.is_empty() {
        return None;
    }
    let all = || {
        taps.iter()
            .flat_map(|tap| tap.curve.iter().chain(&tap.works))
    };
    let flow = all().map(|(flow, _)| *flow).fold(0.0, f64::max);
    let pressure = all().map(|(_, pressure)| *pressure).fold(0.0, f64::max);
    if flow <= 0.0 || pressure <= 0.0 {
        return None;
    }
    let mut scene = Scene::new(WIDE, HIGH);
    let name = format!("fan-{}", unit.name);
    let axes = Axes::over(&scene, flow * 1.04, pressure * 1.1);
    axes.draw(&mut scene, &name);
    for tap in &taps {
        let pen = if tap.set { Pen::HEAVY } else { Pen::solid(0.9) };
        let line: Vec<Point> = tap.curve.iter().map(|(q, p)| axes.at(*q, *p)).collect();
        let top = line
            .iter()
            .copied()
            .min_by(|a, b| a.y.total_cmp(&b.y).then(a.x.total_cmp(&b.x)));
        scene.path(line, pen);
        if let Some(top) = top {
            let figure = Figure::text(format!("drawing.{name}.tap-{}", tap.name), tap.name.clone());
            let lettering = if tap.set {
                Lettering::NAME.sized(11.0)
            } else {
                Lettering::LABEL
            };
            let words = say("fan.tap").with("tap", Text::figure(&figure));
            let at = top.moved(-3.0, -4.0);
            scene.text(at, lettering.anchored(Anchor::Middle), words);
        }
    }
    let ducts = system(&taps, &axes);
    if let Some(end) = ducts.last().copied() {
        scene.path(ducts, Pen::HIDDEN);
        let lettering = Lettering::LABEL.anchored(Anchor::End);
        scene.text(end.moved(-8.0, 12.0), lettering, say("fan.ducts"));
    }
    for tap in &taps {
        if let Some((flow, pressure)) = tap.works {
            let (radius, fill) = if tap.set {
                (4.5, Fill::Black)
            } else {
                (3.0, Fill::White)
            };
            scene.circle(axes.at(flow, pressure), radius, Pen::MEDIUM, fill);
        }
    }
    Some(scene)
}

fn table(source: &PageSource<'_>, unit: &AirHandler) -> Table {
    let mut table = Table::new(vec![
        Column::left(say("start.tap")).wide(),
        Column::right(say("fan.airflow")),
        Column::right(say("fan.external")),
        Column::right(say("fan.power")),
        Column::right(say("fan.per-ton")),
        Column::right(say("fan.margin")),
    ]);
    let set = unit.tap.as_ref().map(|tap| tap.value.as_str());
    for name in unit.sheet.blower.taps.keys() {
        let suffix = format!("@summer.tap{name}");
        let of =
            |what: &str| source.of_or_mark(&format!("air-handler.{}.{what}{suffix}", unit.name));
        let figure = Figure::text(
            format!("drawing.fan-{}.tap-{name}", unit.name),
            name.clone(),
        );
        let mut first = say("fan.tap").with("tap", Text::figure(&figure));
        if set == Some(name.as_str()) {
            first = say("fan.tap-set").with("tap", Text::figure(&figure));
        }
        let cells = [
            first.into(),
            of("airflow"),
            of("external-static"),
            of("blower-power"),
            of("airflow-per-ton"),
            source.of_or_mark(&format!("coil.{}.freeze-margin{suffix}", unit.name)),
        ];
        if set == Some(name.as_str()) {
            table.strong_row(cells);
        } else {
            table.row(cells);
        }
    }
    table
}

/// One page a unit.
pub(super) fn add(source: &PageSource<'_>, pages: &mut Vec<Page>) {
    for unit in source.model.air_handlers.values() {
        let id = |what: &str| format!("air-handler.{}.{what}", unit.name);
        let Some(scene) = chart(source, unit) else {
            continue;
        };
        let title = say("fan.title").with("unit", Text::tag(&unit.name));
        let mut page = Page::new(format!("fan-{}", unit.name), title)
            .trades(&[Trade::ServiceTech, Trade::Lead]);
        page.rests_on(source.files, unit.whole);
        for tap in unit.sheet.blower.taps.values() {
            page.rests_on(source.files, tap.span);
        }
        let facts: Vec<Fact> = [
            source.big_fact(say("fan.airflow"), &id("airflow")),
            source.big_fact(say("fan.external"), &id("external-static")),
        ]
        .into_iter()
        .flatten()
        .collect();
        if !facts.is_empty() {
            page.put(Block::Facts(facts));
        }
        page.put(Block::drawing(say("fan.drawing"), scene));
        page.put(Block::note(say("fan.legend")));
        page.put(Block::Table(table(source, unit)));
        let taps = unit.sheet.blower.taps.keys();
        let ids = taps.map(|name| format!("air-handler.{}.airflow@summer.tap{name}", unit.name));
        for reason in source.why_not(ids.chain([id("airflow")])) {
            page.put(Block::note(reason));
        }
        page.put(Block::note(say("fan.note")));
        pages.push(page);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ducts_curve_passes_through_every_solved_point() {
        let solved = [(900.0, 1.05), (1000.0, 1.28), (1100.0, 1.54)];
        for (flow, pressure) in solved {
            let found = system_at(&solved, flow).unwrap();
            assert!((found - pressure).abs() < 1e-9, "{flow}: {found}");
        }
        // Beyond its ends it goes on as it came; from one point alone, by the square.
        assert!(system_at(&solved, 1200.0).unwrap() > 1.54);
        let one = [(500.0, 0.8)];
        assert!((system_at(&one, 1000.0).unwrap() - 3.2).abs() < 1e-9);
        assert!((system_at(&one, 500.0).unwrap() - 0.8).abs() < 1e-12);
        assert_eq!(system_at(&[], 500.0), None);
    }
}
