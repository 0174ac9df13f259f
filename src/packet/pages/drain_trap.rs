//! The trap drawn large: drop, seal, and where the water stands, running and stopped; and the drain's end.

use super::source::PageSource;
use crate::model::{Drain, Happening, Mark};
use crate::packet::scene::{Anchor, Area, Fill, Hatch, Lettering, Pen, Point, Scene};
use crate::packet::text::{Text, say};
use crate::quantity::Length;

/// Bore to draw where no catalog gives one, in inches.
const BORE: f64 = 0.8;
/// Clear width between the two legs, in inches.
const BETWEEN: f64 = 1.1;
/// From the unit's wall to the first leg, in inches.
const LEAD: f64 = 1.3;

/// Measures of a trap, all in inches below the pan's outlet, and the way from them to points.
struct Trap {
    drop: f64,
    seal: f64,
    bore: f64,
    suction: f64,
    per_inch: f64,
    origin: Point,
}

impl Trap {
    fn at(&self, x: f64, y: f64) -> Point {
        self.origin.moved(x * self.per_inch, y * self.per_inch)
    }

    fn dip(&self) -> f64 {
        self.drop + self.seal
    }

    fn bottom(&self) -> f64 {
        self.dip() + self.bore
    }

    /// Left wall of the leg behind the dip.
    fn behind(&self) -> f64 {
        LEAD + self.bore + BETWEEN
    }

    /// Right wall of the leg behind the dip, where the weir stands.
    fn weir(&self) -> f64 {
        self.behind() + self.bore
    }

    fn right(&self) -> f64 {
        self.weir() + 1.2 + self.bore + 0.9
    }

    fn top(&self) -> f64 {
        -self.bore - 0.9
    }

    fn walls(&self, scene: &mut Scene, vent: bool, cleanout: bool) {
        let (b, drop, dip, bottom) = (self.bore, self.drop, self.dip(), self.bottom());
        let pen = Pen::HEAVY;
        let vent_at = self.weir() + 1.0;
        let roof = if cleanout { self.top() } else { -b };
        scene.path(
            [
                (0.0, 0.0),
                (LEAD, 0.0),
                (LEAD, bottom),
                (self.weir(), bottom),
                (self.weir(), drop),
                (self.right(), drop),
            ]
            .map(|(x, y)| self.at(x, y)),
            pen,
        );
        let mut inner = vec![
            (LEAD + b, roof),
            (LEAD + b, dip),
            (self.behind(), dip),
            (self.behind(), drop - b),
        ];
        if vent {
            inner.extend([(vent_at, drop - b), (vent_at, self.top())]);
            scene.path(
                [
                    (vent_at + b, self.top()),
                    (vent_at + b, drop - b),
                    (self.right(), drop - b),
                ]
                .map(|(x, y)| self.at(x, y)),
                pen,
            );
        } else {
            inner.push((self.right(), drop - b));
        }
        scene.path(inner.into_iter().map(|(x, y)| self.at(x, y)), pen);
        scene.path(
            [(0.0, -b), (LEAD, -b), (LEAD, roof)].map(|(x, y)| self.at(x, y)),
            pen,
        );
        scene.path(
            [(LEAD, roof), (LEAD + b, roof)].map(|(x, y)| self.at(x, y)),
            pen,
        );
        if cleanout {
            let plug = Area::around(
                self.at(LEAD - 0.12, roof - 0.3),
                self.at(LEAD + b + 0.12, roof),
            );
            scene.rectangle(plug, Pen::HEAVY, Fill::Hatch(Hatch::Crossed));
        }
    }

    fn water(&self, scene: &mut Scene) {
        let running = (self.drop - self.suction).max(0.0);
        let b = self.bore;
        scene.outline(
            [
                (LEAD, running),
                (LEAD, self.bottom()),
                (self.weir(), self.bottom()),
                (self.weir(), self.drop),
                (self.behind(), self.drop),
                (self.behind(), self.dip()),
                (LEAD + b, self.dip()),
                (LEAD + b, running),
            ]
            .map(|(x, y)| self.at(x, y)),
            Pen::solid(0.2),
            Fill::Hatch(Hatch::Level),
        );
        // Stopped, both legs stand at the weir.
        scene.line(
            self.at(LEAD, self.drop),
            self.at(LEAD + b, self.drop),
            Pen::broken(1.6, crate::packet::scene::Dash::Dashed),
        );
    }
}

/// What the figures of the `n`-th trap of a drain carry at their end.
pub(super) fn suffix(n: usize) -> String {
    if n == 0 {
        String::new()
    } else {
        format!("-{}", n + 1)
    }
}

fn has(drain: &Drain, wanted: impl Fn(&Mark) -> bool) -> bool {
    drain
        .happenings
        .iter()
        .any(|happening| wanted(&happening.mark))
}

/// The `n`-th trap of a drain, drawn large.
pub(super) fn trap(
    source: &PageSource<'_>,
    drain: &Drain,
    n: usize,
    (_, drop, seal): (&Happening, Length, Length),
) -> Scene {
    let end = suffix(n);
    let id = |what: &str| format!("drain.{}.{what}{end}", drain.name);
    let suction_id = format!("air-handler.{}.pan-suction", drain.unit);
    let bore = source
        .ledger
        .length(&format!("drain.{}.opening", drain.name))
        .map_or(BORE, Length::to_inches);
    let (drop, seal) = (drop.to_inches(), seal.to_inches());
    let high = drop + seal + 2.0 * bore + 1.6;
    // The widest trap leaves room for its dimensions at the right.
    let wide = LEAD + BETWEEN + 3.0 * bore + 2.5;
    let per_inch = (270.0 / high).min(286.0 / wide);
    let trap = Trap {
        drop,
        seal,
        bore,
        suction: source.ledger.real(&suction_id).unwrap_or(0.0),
        per_inch,
        origin: Point::at(110.0, 16.0 + (bore + 1.3) * per_inch),
    };
    let mut scene = Scene::new(Scene::WIDEST, trap.at(0.0, trap.bottom()).y + 24.0);
    let wall = Area::around(
        trap.at(0.0, trap.top()),
        trap.at(0.0, bore * 0.15).moved(-100.0, 0.0),
    );
    scene.rectangle(wall, Pen::HEAVY, Fill::White);
    scene.text(
        wall.middle().moved(0.0, -8.0),
        Lettering::NAME,
        source.name(drain.span, &drain.unit),
    );
    scene.text(
        wall.middle().moved(0.0, 6.0),
        Lettering::LABEL,
        say("drain.pan"),
    );
    trap.water(&mut scene);
    let vent = has(drain, |mark| matches!(mark, Mark::Vent(_)));
    let cleanout = has(drain, |mark| matches!(mark, Mark::Cleanout { .. }));
    trap.walls(&mut scene, vent, cleanout);
    let far = trap.at(trap.right() + 0.35, 0.0).x;
    let level = |y: f64| Point::at(far, trap.at(0.0, y).y);
    scene.line(
        trap.at(LEAD + bore, 0.0),
        level(0.0).moved(34.0, 0.0),
        Pen::CENTER,
    );
    scene.line(trap.at(trap.weir(), drop), level(drop), Pen::CENTER);
    scene.line(
        trap.at(LEAD + bore, trap.dip()),
        level(trap.dip()),
        Pen::CENTER,
    );
    let big = Lettering::NAME.anchored(Anchor::Start);
    for (from, to, words) in [
        (
            0.0,
            drop,
            say("drain.drop").with("drop", source.of(&id("trap-drop"))),
        ),
        (
            drop,
            trap.dip(),
            say("drain.seal").with("seal", source.of(&id("trap-seal"))),
        ),
    ] {
        scene.dimension(level(from), level(to), 14.0, Text::empty());
        let middle = f64::midpoint(level(from).y, level(to).y);
        scene.text(Point::at(far + 22.0, middle + 4.0), big, words);
    }
    label(source, &trap, &suction_id, (vent, cleanout), &mut scene);
    if let Some(fall) = source
        .known(&id("trap-start-fall"))
        .filter(|_| trap.suction > 0.0)
    {
        let level = drop + trap.suction / 2.0;
        scene.line(
            trap.at(trap.behind(), level),
            trap.at(trap.weir(), level).moved(8.0, 0.0),
            Pen::THIN,
        );
        let words = say("drain.at-start").with("fall", Text::figure(fall));
        let label = Lettering::LABEL.anchored(Anchor::Start);
        scene.text(trap.at(trap.weir(), level).moved(11.0, 3.5), label, words);
    }
    scene
}

/// Two short lines of words, the first at `at`.
fn two_lines(
    scene: &mut Scene,
    at: Point,
    anchor: Anchor,
    first: impl Into<Text>,
    second: impl Into<Text>,
) {
    let label = Lettering::LABEL.anchored(anchor);
    scene.text(at, label, first);
    scene.text(at.moved(0.0, 12.0), label, second);
}

/// Names what is drawn, each thing beside itself.
fn label(
    source: &PageSource<'_>,
    trap: &Trap,
    suction_id: &str,
    (vent, cleanout): (bool, bool),
    scene: &mut Scene,
) {
    let wall = trap.at(LEAD, 0.0).x - 8.0;
    let at = |y: f64| Point::at(wall, trap.at(0.0, y).y);
    if trap.suction > 0.0 {
        let running = (trap.drop - trap.suction).max(0.0);
        let line = at(running);
        scene.line(line.moved(-40.0, 0.0), line.moved(8.0, 0.0), Pen::THIN);
        let words = say("drain.running-up").with("suction", source.of(suction_id));
        // Below the unit there may be no room for words above the line.
        let rise = if running * trap.per_inch < 34.0 {
            11.0
        } else {
            -15.0
        };
        let first = line.moved(-4.0, rise);
        two_lines(scene, first, Anchor::End, say("drain.running"), words);
    }
    let line = at(trap.drop);
    scene.line(line.moved(-40.0, 0.0), line.moved(8.0, 0.0), Pen::THIN);
    two_lines(
        scene,
        line.moved(-4.0, 11.0),
        Anchor::End,
        say("drain.stopped"),
        say("drain.stopped-level"),
    );
    let vent_right = trap.at(trap.weir() + 1.0 + trap.bore, 0.0);
    let outlet = vent_right.moved(if vent { 8.0 } else { -60.0 }, -5.0);
    let label = Lettering::LABEL.anchored(Anchor::Start);
    scene.text(outlet, label, say("drain.outlet-level"));
    if cleanout {
        let plug = trap.at(LEAD + trap.bore, trap.top()).moved(10.0, -2.0);
        two_lines(
            scene,
            plug,
            Anchor::Start,
            say("drain.cleanout"),
            say("drain.not-glued"),
        );
    }
    if vent {
        let top = Point::at(vent_right.x + 8.0, trap.at(0.0, trap.top()).y + 10.0);
        scene.text(top, label, say("drain.mark-vent"));
    }
}

/// The end of the drain above what it runs into.
pub(super) fn end(source: &PageSource<'_>, drain: &Drain) -> Option<Scene> {
    let ending = drain.ending.as_ref()?;
    let gap = source.figure(&format!("drain.{}.air-gap", drain.name))?;
    let mut scene = Scene::new(400.0, 130.0);
    let (x, end, rim) = (150.0, 46.0, 88.0);
    for dx in [-9.0, 9.0] {
        scene.line(Point::at(x + dx, 6.0), Point::at(x + dx, end), Pen::HEAVY);
    }
    scene.line(
        Point::at(x - 9.0, end),
        Point::at(x + 9.0, end),
        Pen::MEDIUM,
    );
    scene.path(
        [
            Point::at(70.0, rim),
            Point::at(82.0, 124.0),
            Point::at(218.0, 124.0),
            Point::at(230.0, rim),
        ],
        Pen::HEAVY,
    );
    scene.text(
        Point::at(x, 112.0),
        Lettering::NAME,
        source.word(&ending.to),
    );
    scene.line(Point::at(70.0, rim), Point::at(300.0, rim), Pen::CENTER);
    scene.line(Point::at(x + 9.0, end), Point::at(300.0, end), Pen::CENTER);
    scene.dimension(
        Point::at(290.0, end),
        Point::at(290.0, rim),
        0.0,
        Text::empty(),
    );
    let how = ending
        .how
        .as_ref()
        .map_or_else(Text::empty, |how| source.word(how));
    scene.text(
        Point::at(300.0, f64::midpoint(end, rim) + 4.0),
        Lettering::NAME.anchored(Anchor::Start),
        Text::named(how, Text::figure(gap)),
    );
    scene.text(
        Point::at(304.0, rim + 14.0),
        Lettering::LABEL.anchored(Anchor::Start),
        say("drain.rim"),
    );
    Some(scene)
}
