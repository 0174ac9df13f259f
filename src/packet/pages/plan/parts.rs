//! Panels, lights, receptacles and other things with a place on plan, each a small square with its name.

use crate::language::Entry;
use crate::model::{Drain, DrainLeg, Extent, Model, Point, Story};
use crate::packet::pages::view::View;
use crate::packet::scene::{Area, Dash, Fill, Pen, Scene};
use crate::packet::text::{Text, say};
use crate::quantity::Length;

/// Words of things that state a story and a place, and have no solid of their own.
const SMALL: &[&str] = &["panel", "receptacle", "light"];

fn place(entry: &Entry, floor: Length) -> Option<Point> {
    let at = entry.child("at").or_else(|| entry.child("center"))?;
    let (x, y) = (at.length("x").known()?.value, at.length("y").known()?.value);
    Some(Point::new(x, y, floor))
}

/// Things of a story with their names.
pub(super) fn small_parts(model: &Model, story: &Story) -> Vec<(Text, Point)> {
    let mut out = Vec::new();
    for entry in &model.entries {
        if !SMALL.contains(&entry.word.word) {
            continue;
        }
        let on = entry
            .text("story")
            .known()
            .is_some_and(|on| on.value == story.name);
        let name = entry.text("name").known();
        if let (true, Some(name), Some(at)) = (on, name, place(entry, story.floor)) {
            let name = Text::tag(&name.value);
            let text = match entry.word.word {
                "panel" => say("plan.panel").with("name", name).into(),
                "receptacle" => say("plan.receptacle").with("name", name).into(),
                _ => say("plan.light").with("name", name).into(),
            };
            out.push((text, at));
        }
    }
    for thing in model.equipment.values() {
        let Some(at) = thing.point else { continue };
        let on = match &thing.story {
            Some(on) => *on == story.name,
            None => model
                .house
                .story_at(at.z)
                .is_some_and(|there| there.name == story.name),
        };
        if on {
            out.push((Text::tag(&thing.name), at));
        }
    }
    out
}

/// The box around their places.
pub(super) fn extents(parts: &[(Text, Point)]) -> impl Iterator<Item = Extent> {
    parts.iter().map(|(_, at)| Extent {
        low: *at,
        high: *at,
    })
}

/// Draws them.
pub(super) fn draw(scene: &mut Scene, view: &View, parts: &[(Text, Point)]) {
    for (text, at) in parts {
        let at = view.at(*at);
        let area = Area::new(at.x - 3.5, at.y - 3.5, 7.0, 7.0);
        scene.rectangle(area, Pen::MEDIUM, Fill::White);
        scene.leader(at, text.clone());
    }
}

/// The legs of a drain that lie on a story or pass through it, in their order.
fn legs_on<'m>(model: &'m Model, drain: &'m Drain, story: &Story) -> Vec<&'m DrainLeg> {
    let here = |z: Length| {
        let there = model.house.story_at(z);
        there.is_some_and(|there| there.name == story.name)
    };
    let passes = |leg: &DrainLeg| {
        let (low, high) = (leg.start.z.min(leg.end.z), leg.start.z.max(leg.end.z));
        low < story.floor && story.floor < high
    };
    let legs = drain.legs.iter();
    legs.filter(|leg| here(leg.start.z) || here(leg.end.z) || passes(leg))
        .collect()
}

/// The boxes around the drains of a story.
pub(super) fn drains_on(model: &Model, story: &Story) -> Vec<Extent> {
    let drains = model.drains.values();
    drains
        .flat_map(|drain| legs_on(model, drain, story))
        .map(|leg| Extent::between(leg.start, leg.end))
        .collect()
}

/// Drains on this story with their names: their ways, where they come down through it, and what they end at.
pub(super) fn draw_drains(scene: &mut Scene, view: &View, model: &Model, story: &Story) {
    for drain in model.drains.values() {
        let legs = legs_on(model, drain, story);
        let (Some(first), Some(last)) = (legs.first(), legs.last()) else {
            continue;
        };
        let on = |z: Length| {
            let there = model.house.story_at(z);
            there.is_some_and(|there| there.name == story.name)
        };
        let name = Text::tag(&drain.name);
        let ends = on(drain.end().z);
        let words: Text = match &drain.ending {
            Some(ending) if ends => say("plan.drain-to")
                .with("name", name)
                .with("to", Text::tag(&ending.to.value))
                .into(),
            _ if on(drain.start.z) => say("plan.drain").with("name", name).into(),
            _ => say("plan.drain-down").with("name", name).into(),
        };
        let way: Vec<_> = std::iter::once(first.start)
            .chain(legs.iter().map(|leg| leg.end))
            .map(|point| view.at(point))
            .collect();
        let at = view.at(last.end);
        if ends {
            // What takes the water stands around the pipe's end.
            let area = Area::new(at.x - 6.0, at.y - 6.0, 12.0, 12.0);
            scene.rectangle(area, Pen::MEDIUM, Fill::White);
        }
        scene.circle(at, 2.5, Pen::MEDIUM, Fill::White);
        scene.leader(at, words);
        scene.path(way, Pen::broken(1.6, Dash::DashDot));
    }
}
