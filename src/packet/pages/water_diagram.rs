//! The loop drawn as a ladder, not to scale: boiler below, coils as rungs, supply left and return right, with the
//! circulator, valves, flow checks and vents where the pipes have them.

use super::source::PageSource;
use crate::model::{WaterLoop, WaterMark, WaterPart};
use crate::packet::scene::{Anchor, Area, Fill, Lettering, Pen, Point, Scene};
use crate::packet::text::{Text, say};

const SUPPLY: f64 = 96.0;
const RETURN: f64 = 404.0;
const MIDDLE: f64 = 250.0;
const RUNG: f64 = 132.0;
/// More rungs than this are not drawn: a house has a few coils.
const MOST_RUNGS: usize = 3;

/// A way of the water split at its coil.
struct Rung<'a> {
    before: Vec<&'a str>,
    coil: Option<&'a str>,
    after: Vec<&'a str>,
}

fn rungs(water: &WaterLoop) -> Vec<Rung<'_>> {
    let rung = |way: Vec<&WaterPart>| -> Rung<'_> {
        let mut out = Rung {
            before: Vec::new(),
            coil: None,
            after: Vec::new(),
        };
        let parts = water.every();
        for part in way {
            // The part as the loop keeps it, so that its name outlives the way.
            let kept = parts.iter().find(|kept| **kept == part);
            match kept {
                Some(WaterPart::Pipe(name)) if out.coil.is_none() => out.before.push(name),
                Some(WaterPart::Pipe(name)) => out.after.push(name),
                Some(WaterPart::Coil { name, .. }) => out.coil = out.coil.or(Some(name)),
                _ => {}
            }
        }
        out
    };
    water
        .ways()
        .into_iter()
        .take(MOST_RUNGS)
        .map(rung)
        .collect()
}

/// A line of straight pieces, and places on it.
struct Line(Vec<Point>);

impl Line {
    fn length(&self) -> f64 {
        self.pieces()
            .map(|(a, b)| (b.x - a.x).abs() + (b.y - a.y).abs())
            .sum()
    }

    fn pieces(&self) -> impl Iterator<Item = (Point, Point)> {
        self.0.iter().copied().zip(self.0.iter().copied().skip(1))
    }

    /// The point at a share of its length, and the way the water goes there.
    fn at(&self, share: f64) -> (Point, Way) {
        let mut left = self.length() * share.clamp(0.0, 1.0);
        let mut last = (Point::at(0.0, 0.0), Way { dx: 1.0, dy: 0.0 });
        for (a, b) in self.pieces() {
            let long = (b.x - a.x).abs() + (b.y - a.y).abs();
            if long <= 0.0 {
                continue;
            }
            let way = Way {
                dx: (b.x - a.x) / long,
                dy: (b.y - a.y) / long,
            };
            if left <= long {
                return (a.moved(way.dx * left, way.dy * left), way);
            }
            left -= long;
            last = (b, way);
        }
        last
    }
}

/// A unit step along the water.
#[derive(Clone, Copy)]
struct Way {
    dx: f64,
    dy: f64,
}

impl Way {
    /// The point `along` the water and `beside` it.
    fn place(self, at: Point, along: f64, beside: f64) -> Point {
        at.moved(
            self.dx * along - self.dy * beside,
            self.dy * along + self.dx * beside,
        )
    }
}

fn mark(scene: &mut Scene, kind: WaterMark, (at, way): (Point, Way)) {
    let turn = |along: f64, beside: f64| way.place(at, along, beside);
    match kind {
        WaterMark::Vent => {
            let top = at.moved(0.0, -20.0);
            scene.line(at, top, Pen::MEDIUM);
            scene.circle(top.moved(0.0, -5.0), 5.0, Pen::MEDIUM, Fill::White);
        }
        WaterMark::Valve => scene.outline(
            [
                turn(-8.0, -5.0),
                turn(8.0, 5.0),
                turn(8.0, -5.0),
                turn(-8.0, 5.0),
            ],
            Pen::MEDIUM,
            Fill::White,
        ),
        WaterMark::FlowCheck => {
            scene.outline(
                [turn(-7.0, -6.0), turn(7.0, 0.0), turn(-7.0, 6.0)],
                Pen::MEDIUM,
                Fill::White,
            );
            scene.line(turn(7.0, -6.0), turn(7.0, 6.0), Pen::MEDIUM);
        }
        WaterMark::Elbow => {}
    }
}

fn mark_words(kind: WaterMark) -> Option<Text> {
    Some(match kind {
        WaterMark::Vent => say("loop.mark-vent").into(),
        WaterMark::Valve => say("loop.mark-valve").into(),
        WaterMark::FlowCheck => say("loop.mark-check").into(),
        WaterMark::Elbow => return None,
    })
}

/// One after the other along a line: the pipes' marks and circulators, each pipe drawn once.
fn along<'a>(
    source: &PageSource<'_>,
    scene: &mut Scene,
    (line, pipes): (&Line, &[&'a str]),
    drawn: &mut Vec<&'a str>,
) {
    let count = pipes.len().max(1) as f64;
    for (n, name) in pipes.iter().enumerate() {
        let Some(pipe) = source.model.water.pipes.get(*name) else {
            continue;
        };
        if drawn.contains(name) {
            continue;
        }
        drawn.push(name);
        let share = |part: f64| (n as f64 + part) / count;
        let nodes = pipe.legs.len() as f64 + 1.0;
        let mut at: Vec<(f64, WaterMark)> = pipe
            .marks
            .iter()
            .filter(|(kind, ..)| *kind != WaterMark::Elbow)
            .map(|(kind, node, _)| ((*node as f64 + 0.6) / nodes, *kind))
            .collect();
        // Marks at one place stand a little apart.
        let mut last = -1.0_f64;
        for (part, _) in &mut at {
            *part = part.max(last + 0.14).min(0.96);
            last = *part;
        }
        for (part, kind) in at {
            let place = line.at(share(part));
            mark(scene, kind, place);
            if let Some(words) = mark_words(kind) {
                let stem = if kind == WaterMark::Vent { -25.0 } else { 0.0 };
                scene.leader(place.0.moved(0.0, stem), words);
            }
        }
        let pumps = source.model.water.circulators.values();
        for pump in pumps.filter(|pump| pump.pipe.value == *name) {
            let (place, way) = line.at(share(0.34));
            scene.circle(place, 10.0, Pen::HEAVY, Fill::White);
            scene.outline(
                [
                    way.place(place, 7.0, 0.0),
                    way.place(place, -5.0, -6.0),
                    way.place(place, -5.0, 6.0),
                ],
                Pen::MEDIUM,
                Fill::White,
            );
            scene.leader(
                way.place(place, 0.0, 10.0),
                source.name(pump.span, &pump.name),
            );
        }
        let speed = source.of_or_empty(&format!("water-pipe.{name}.velocity"));
        let words = Text::named(source.name(pipe.span, name), speed);
        scene.leader(line.at(share(0.66)).0, words);
    }
}

fn arrow(scene: &mut Scene, line: &Line, share: f64) {
    let (at, way) = line.at(share);
    scene.outline(
        [
            way.place(at, 6.0, 0.0),
            way.place(at, -3.0, -4.0),
            way.place(at, -3.0, 4.0),
        ],
        Pen::MEDIUM,
        Fill::White,
    );
}

/// The loop as a ladder.
pub(super) fn diagram(source: &PageSource<'_>, water: &WaterLoop) -> Scene {
    let rungs = rungs(water);
    let high = 40.0 + RUNG * rungs.len().max(1) as f64 + 120.0;
    let mut scene = Scene::new(Scene::WIDEST, high);
    let floor = high - 56.0;
    let boiler = Area::new(MIDDLE - 62.0, floor - 26.0, 124.0, 52.0);
    let mut drawn: Vec<&str> = Vec::new();
    for (n, rung) in rungs.iter().enumerate() {
        let top = 46.0 + RUNG * n as f64;
        let coil = Area::new(MIDDLE - 62.0, top, 124.0, 58.0);
        let (low, up) = (top + 48.0, top + 10.0);
        let supply = Line(vec![
            Point::at(boiler.corner.x, floor),
            Point::at(SUPPLY, floor),
            Point::at(SUPPLY, low),
            Point::at(coil.corner.x, low),
        ]);
        let back = Line(vec![
            Point::at(coil.corner.x + 124.0, up),
            Point::at(RETURN, up),
            Point::at(RETURN, floor),
            Point::at(boiler.corner.x + 124.0, floor),
        ]);
        scene.path(supply.0.iter().copied(), Pen::solid(3.0));
        scene.path(back.0.iter().copied(), Pen::solid(3.0));
        scene.rectangle(coil, Pen::HEAVY, Fill::White);
        scene.keep_clear(coil);
        arrow(&mut scene, &supply, 0.97);
        arrow(&mut scene, &back, 0.05);
        along(source, &mut scene, (&supply, &rung.before), &mut drawn);
        along(source, &mut scene, (&back, &rung.after), &mut drawn);
        let Some(coil_of) = rung
            .coil
            .and_then(|name| source.model.water.coils.get(name))
        else {
            continue;
        };
        let middle = coil.middle();
        scene.text(
            middle.moved(0.0, -2.0),
            Lettering::NAME,
            source.name(coil_of.span, &coil_of.name),
        );
        let id = |what: &str| format!("water-coil.{}.{what}", coil_of.name);
        scene.text(
            middle.moved(0.0, 16.0),
            Lettering::LABEL,
            source.of_or_mark(&id("flow")),
        );
        scene.text(
            Point::at(coil.corner.x - 12.0, low + 16.0),
            Lettering::LABEL.anchored(Anchor::End),
            Text::named(say("loop.in"), source.of_or_mark(&id("entering-water"))),
        );
        scene.text(
            Point::at(coil.corner.x + 134.0, up - 8.0),
            Lettering::LABEL.anchored(Anchor::Start),
            Text::named(say("loop.out"), source.of_or_mark(&id("leaving-water"))),
        );
        let own = coil_of
            .model
            .as_ref()
            .and_then(|named| source.catalog.water_coils.get(&named.value))
            .is_some_and(|sheet| sheet.vent.get() == Some(true));
        if own {
            // The coil's own bleed, at its high corner.
            let corner = Point::at(coil.corner.x + 112.0, coil.corner.y);
            mark(
                &mut scene,
                WaterMark::Vent,
                (corner, Way { dx: 1.0, dy: 0.0 }),
            );
            scene.leader(corner.moved(0.0, -25.0), say("loop.mark-bleed"));
        }
    }
    scene.rectangle(boiler, Pen::HEAVY, Fill::White);
    scene.keep_clear(boiler);
    let middle = boiler.middle();
    if let Some(heater) = source.model.water.boilers.get(&water.boiler) {
        scene.text(
            middle.moved(0.0, 4.0),
            Lettering::NAME,
            source.name(heater.span, &heater.name),
        );
    }
    let id = |what: &str| format!("boiler.{}.{what}", water.boiler);
    // Its own water, before it meets that of another loop.
    let back = format!("water-loop.{}.return-water", water.name);
    scene.text(
        Point::at(boiler.corner.x - 6.0, floor + 18.0),
        Lettering::LABEL.anchored(Anchor::End),
        Text::named(say("loop.out"), source.of_or_mark(&id("water"))),
    );
    scene.text(
        Point::at(boiler.corner.x + 130.0, floor + 18.0),
        Lettering::LABEL.anchored(Anchor::Start),
        Text::named(say("loop.in"), source.of_or_mark(&back)),
    );
    scene
}
