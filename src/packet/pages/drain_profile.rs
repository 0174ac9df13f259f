//! The drain drawn: the whole of it to scale, and its level legs with heights stretched so that falls show.

use super::source::PageSource;
use crate::model::{Branch, Drain, Happening, Mark};
use crate::packet::scene::{Anchor, Area, Fill, Hatch, Lettering, Pen, Point, Scale, Scene};
use crate::packet::text::{Text, say};
use crate::quantity::Length;

/// Room for the unit at the left of a drawing, in points.
const UNIT: f64 = 46.0;

/// The name by which a leg is spoken of.
pub(super) fn leg_tag(n: usize) -> Text {
    Text::tag(&format!("leg-{}", n + 1))
}

fn leg_id(drain: &Drain, n: usize, what: &str) -> String {
    format!("drain.{}.leg-{}-{what}", drain.name, n + 1)
}

fn unit_box(scene: &mut Scene, at: Point, name: Text) {
    let area = Area::new(at.x - 42.0, at.y - 30.0, 42.0, 36.0);
    scene.rectangle(area, Pen::HEAVY, Fill::White);
    scene.text(area.middle().moved(0.0, 4.0), Lettering::NAME, name);
    scene.keep_clear(area);
}

fn level_length(drain: &Drain) -> Length {
    let level = drain.legs.iter().filter(|leg| leg.direction.is_level());
    level.map(|leg| leg.length).sum()
}

/// The whole drain unrolled, lengths and heights at one scale.
pub(super) fn whole(source: &PageSource<'_>, drain: &Drain) -> Option<(Text, Scene)> {
    let lowest = drain.legs.iter().map(|leg| leg.end.z).min()?;
    let (wide, high) = (level_length(drain), drain.start.z - lowest);
    let scale = Scale::fit(wide, high, 250.0, 320.0);
    let top = 46.0;
    let mut scene = Scene::new(460.0, top + scale.points(high) + 60.0);
    let left = 110.0;
    let at = |along: Length, z: Length| {
        Point::at(
            left + scale.points(along),
            top + scale.points(drain.start.z - z),
        )
    };
    let right = at(wide, lowest).x + 150.0;
    for story in source.model.house.stories.values() {
        let floor = story.floor;
        if floor < lowest - Length::feet(1) || floor > drain.start.z {
            continue;
        }
        let y = at(Length::ZERO, floor).y;
        scene.line(
            Point::at(8.0, y),
            Point::at(right.min(452.0), y),
            Pen::CENTER,
        );
        let label = say("drain.floor-of").with("story", source.name(story.span, &story.name));
        scene.text(
            Point::at(8.0, y - 3.0),
            Lettering::LABEL.anchored(Anchor::Start),
            label,
        );
    }
    unit_box(
        &mut scene,
        at(Length::ZERO, drain.start.z),
        source.name(drain.span, &drain.unit),
    );
    let mut along = Length::ZERO;
    let mut way = vec![at(along, drain.start.z)];
    for leg in &drain.legs {
        way.push(at(along, leg.start.z));
        if leg.direction.is_level() {
            along += leg.length;
        }
        way.push(at(along, leg.end.z));
    }
    scene.path(way, Pen::solid(3.0));
    along = Length::ZERO;
    for (n, leg) in drain.legs.iter().enumerate() {
        let from = at(along, leg.start.z);
        if leg.direction.is_level() {
            along += leg.length;
        }
        let to = at(along, leg.end.z);
        let middle = Point::at(f64::midpoint(from.x, to.x), f64::midpoint(from.y, to.y));
        scene.leader(
            middle,
            Text::named(leg_tag(n), source.of(&leg_id(drain, n, "length"))),
        );
    }
    if let Some(last) = drain.legs.len().checked_sub(1) {
        scene.leader(
            at(along, drain.end().z),
            say("drain.end-height").with("height", source.of(&leg_id(drain, last, "end"))),
        );
    }
    scene.scale_bar(Point::at(left, top + scale.points(high) + 32.0), scale);
    let title = say("drain.whole").with("scale", &scale.figure("drawing.drain.scale"));
    Some((title.into(), scene))
}

/// The level legs with heights stretched: what a string line at the pan's outlet measures.
struct Stretched<'a> {
    drain: &'a Drain,
    /// Points for an inch of height.
    per_inch: f64,
    /// Height of the string line, in points.
    datum: f64,
    /// For each leg: where it starts and ends, in points.
    ends: Vec<(Point, Point)>,
}

/// Points that an upright leg takes, however long it is.
const UPRIGHT: f64 = 54.0;

impl<'a> Stretched<'a> {
    fn of(drain: &'a Drain) -> Option<Self> {
        let wide = level_length(drain);
        if wide <= Length::ZERO {
            return None;
        }
        let fallen: Length = drain
            .legs
            .iter()
            .filter(|leg| leg.direction.is_level())
            .map(|leg| leg.start.z - leg.end.z)
            .sum();
        let deepest = fallen
            + drain
                .traps()
                .map(|(_, drop, seal)| drop.value + seal.value)
                .sum();
        let per_foot = (390.0 / wide.to_feet()).min(90.0);
        let per_inch = (150.0 / deepest.to_inches().max(1.0)).min(40.0);
        let mut stretched = Self {
            drain,
            per_inch,
            datum: 88.0,
            ends: Vec::new(),
        };
        let (mut x, mut upright, mut height) = (UNIT + 8.0, 0.0, Length::ZERO);
        let mut before = drain.start.z;
        for leg in &drain.legs {
            height += before - leg.start.z;
            let from = Point::at(x, stretched.down(height) + upright);
            if leg.direction.is_level() {
                x += leg.length.to_feet() * per_foot;
                height += leg.start.z - leg.end.z;
            } else if leg.end.z < leg.start.z {
                upright += UPRIGHT;
            } else {
                upright -= UPRIGHT;
            }
            before = leg.end.z;
            let to = Point::at(x, stretched.down(height) + upright);
            stretched.ends.push((from, to));
        }
        Some(stretched)
    }

    fn down(&self, height: Length) -> f64 {
        self.datum + height.to_inches() * self.per_inch
    }

    /// The point `along` leg `n`.
    fn on_leg(&self, n: usize, along: Length) -> Option<Point> {
        let (leg, (from, to)) = self.drain.legs.get(n).zip(self.ends.get(n).copied())?;
        let share = along.to_inches() / leg.length.to_inches().max(1e-6);
        Some(Point::at(
            from.x + (to.x - from.x) * share,
            from.y + (to.y - from.y) * share,
        ))
    }

    /// Where a mark stands: at the end of the leg before it.
    fn of_mark(&self, happening: &Happening) -> Point {
        happening
            .after_legs
            .checked_sub(1)
            .and_then(|n| self.ends.get(n))
            .map_or(Point::at(UNIT + 8.0, self.datum), |(_, end)| *end)
    }

    fn before_first_upright(&self, n: usize) -> bool {
        self.drain
            .legs
            .iter()
            .take(n + 1)
            .all(|leg| leg.direction.is_level())
    }
}

/// A fitting with a branch, and which way it faces where that is said.
pub(super) fn branch_words(source: &PageSource<'_>, branch: &Branch) -> Text {
    let fitting = source.word(&branch.fitting);
    match &branch.facing {
        Some(way) => say("drain.fitting-facing")
            .with("fitting", fitting)
            .with("way", source.word(way))
            .into(),
        None => fitting,
    }
}

/// The words for a mark on the drain, where it needs any.
fn mark_words(source: &PageSource<'_>, mark: &Mark) -> Option<Text> {
    Some(match mark {
        Mark::Cleanout { branch: None, .. } => say("drain.mark-cleanout").into(),
        Mark::Cleanout {
            branch: Some(branch),
            ..
        } => say("drain.mark-cleanout-in")
            .with("fitting", branch_words(source, branch))
            .into(),
        Mark::Vent(_) => say("drain.mark-vent").into(),
        Mark::FloatSwitch(_) => say("drain.mark-float").into(),
        Mark::Reduce(_) => say("drain.mark-reduce").into(),
        // The trap is named where it is drawn.
        Mark::Trap { .. } | Mark::Elbow => return None,
    })
}

/// How wide a trap is drawn at the start of a leg, in points: no wider than half of the leg.
fn trap_width(from: Point, to: Point) -> f64 {
    ((to.x - from.x) / 2.0).clamp(5.0, 18.0)
}

fn draw_legs(scene: &mut Scene, source: &PageSource<'_>, stretched: &Stretched<'_>) {
    let drain = stretched.drain;
    let mut way = vec![Point::at(UNIT + 8.0, stretched.datum)];
    for (from, to) in &stretched.ends {
        if let Some(last) = way.last().copied()
            && (last.y - from.y).abs() > 1e-6
        {
            // The trap: down to its dip and up to its weir.
            let seal = drain
                .traps()
                .next()
                .map_or(Length::ZERO, |(_, _, seal)| seal.value);
            let dip = from.y + seal.to_inches() * stretched.per_inch;
            let wide = trap_width(*from, *to);
            way.extend([
                Point::at(last.x, dip),
                Point::at(last.x + wide, dip),
                Point::at(last.x + wide, from.y),
            ]);
            let below = Point::at(last.x + wide / 2.0, dip + 14.0);
            scene.text(below, Lettering::LABEL, say("drain.mark-trap"));
        } else {
            way.push(*from);
        }
        way.push(*to);
    }
    scene.path(way, Pen::solid(3.0));
    for (n, (leg, (from, to))) in drain.legs.iter().zip(&stretched.ends).enumerate() {
        if leg.direction.is_level() {
            // A leg too short for its words has its length a line higher.
            let y = stretched.datum - if to.x - from.x < 40.0 { 52.0 } else { 34.0 };
            scene.dimension(
                Point::at(from.x, y),
                Point::at(to.x, y),
                6.0,
                source.of(&leg_id(drain, n, "length")),
            );
            let middle = Point::at(f64::midpoint(from.x, to.x), f64::midpoint(from.y, to.y));
            scene.leader(middle, leg_tag(n));
        } else {
            // A leg too long to draw is cut.
            let middle = Point::at(from.x, f64::midpoint(from.y, to.y));
            scene.rectangle(
                Area::new(middle.x - 6.0, middle.y - 3.0, 12.0, 6.0),
                Pen::solid(0.1),
                Fill::White,
            );
            for dy in [-3.0, 3.0] {
                scene.line(
                    middle.moved(-7.0, dy + 2.0),
                    middle.moved(7.0, dy - 2.0),
                    Pen::MEDIUM,
                );
            }
            let way = source.name(leg.span, leg.direction.word());
            let text = Text::joined([leg_tag(n), way, source.of(&leg_id(drain, n, "length"))]);
            scene.leader(Point::at(to.x, to.y - 8.0), text);
        }
    }
}

fn draw_heights(scene: &mut Scene, source: &PageSource<'_>, stretched: &Stretched<'_>) {
    let drain = stretched.drain;
    let mut measured: Vec<f64> = Vec::new();
    let mut measure = |scene: &mut Scene, at: Point, id: &str| {
        let near = measured.iter().any(|x| (x - at.x).abs() < 13.0);
        if near || at.y - stretched.datum < 2.0 {
            return;
        }
        measured.push(at.x);
        scene.dimension(
            Point::at(at.x, stretched.datum),
            Point::at(at.x, at.y),
            0.0,
            source.of(id),
        );
    };
    for (n, (leg, (from, to))) in drain.legs.iter().zip(&stretched.ends).enumerate() {
        if !leg.direction.is_level() || !stretched.before_first_upright(n) {
            continue;
        }
        measure(scene, *to, &leg_id(drain, n, "end-below"));
        let before = n.checked_sub(1).and_then(|n| stretched.ends.get(n));
        if before.is_some_and(|(_, end)| (end.y - from.y).abs() > 1e-6) {
            let past_trap = from.moved(trap_width(*from, *to), 0.0);
            measure(scene, past_trap, &leg_id(drain, n, "start-below"));
        }
    }
    for k in supports(source, drain) {
        let id = |what: &str| format!("drain.{}.support-{k}-{what}", drain.name);
        let place = support_place(source, drain, k);
        let Some((n, along)) = place.filter(|(n, _)| stretched.before_first_upright(*n)) else {
            continue;
        };
        let Some(at) = stretched.on_leg(n, along) else {
            continue;
        };
        measure(scene, at, &id("below"));
        // At a turn downward the support stands just before it.
        let turns = drain
            .legs
            .get(n + 1)
            .is_some_and(|leg| !leg.direction.is_level());
        let turns = turns && drain.legs.get(n).is_some_and(|leg| leg.length == along);
        let at = at.moved(if turns { -12.0 } else { 0.0 }, 0.0);
        scene.outline(
            [
                at.moved(0.0, 2.0),
                at.moved(7.0, 13.0),
                at.moved(-7.0, 13.0),
            ],
            Pen::MEDIUM,
            Fill::Hatch(Hatch::Rising),
        );
        scene.text(at.moved(0.0, 24.0), Lettering::LABEL, support_tag(k));
    }
}

/// Numbers of the supports of a drain.
pub(super) fn supports(source: &PageSource<'_>, drain: &Drain) -> std::ops::RangeInclusive<usize> {
    let id = format!("drain.{}.support-", drain.name);
    let held = |k: usize| source.figure(&format!("{id}{k}-along")).is_some();
    let mut last = 0;
    while held(last + 1) {
        last += 1;
    }
    1..=last
}

/// The name by which a support is spoken of.
pub(super) fn support_tag(k: usize) -> Text {
    Text::tag(&format!("s{k}"))
}

/// The leg that support `k` holds, and where on it.
fn support_place(source: &PageSource<'_>, drain: &Drain, k: usize) -> Option<(usize, Length)> {
    let id = |what: &str| format!("drain.{}.support-{k}-{what}", drain.name);
    let leg: usize = source
        .ledger
        .word(&id("leg"))?
        .strip_prefix("leg-")?
        .parse()
        .ok()?;
    Some((leg.checked_sub(1)?, source.ledger.length(&id("along"))?))
}

/// The level legs, heights stretched.
pub(super) fn level(source: &PageSource<'_>, drain: &Drain) -> Option<(Text, Scene)> {
    let stretched = Stretched::of(drain)?;
    let lowest = stretched
        .ends
        .iter()
        .flat_map(|(a, b)| [a.y, b.y])
        .fold(stretched.datum + 60.0, f64::max);
    let mut scene = Scene::new(Scene::WIDEST, lowest + 50.0);
    let start = Point::at(UNIT + 8.0, stretched.datum);
    let right = stretched.ends.last().map_or(start.x, |(_, end)| end.x) + 10.0;
    unit_box(&mut scene, start, source.name(drain.span, &drain.unit));
    scene.line(start, Point::at(right, stretched.datum), Pen::CENTER);
    draw_legs(&mut scene, source, &stretched);
    draw_heights(&mut scene, source, &stretched);
    for happening in &drain.happenings {
        let Some(words) = mark_words(source, &happening.mark) else {
            continue;
        };
        let at = stretched.of_mark(happening);
        let target = match &happening.mark {
            Mark::Vent(_) => {
                // Beside the dimension that stands at the end of the leg.
                let foot = at.moved(-16.0, -2.0);
                scene.line(foot, foot.moved(0.0, -24.0), Pen::HEAVY);
                foot.moved(0.0, -24.0)
            }
            Mark::Cleanout { branch, .. } => {
                // What faces with the flow leans back from it: a cable put in there runs on.
                let lean = match branch.as_ref().filter(|branch| branch.facing.is_some()) {
                    Some(branch) if branch.against_flow() => 9.0,
                    Some(_) => -9.0,
                    None => 0.0,
                };
                let top = at.moved(lean, -16.0);
                scene.line(at, top, Pen::MEDIUM);
                scene.line(top.moved(-4.0, 0.0), top.moved(4.0, 0.0), Pen::HEAVY);
                top
            }
            _ => at,
        };
        scene.leader(target, words);
    }
    Some((say("drain.level").into(), scene))
}
