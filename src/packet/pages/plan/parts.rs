//! Panels, lights, receptacles and other things with a place on plan, each a small square with its name.

use crate::language::Entry;
use crate::model::{Extent, Model, Point, Story};
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

/// Drains that begin on this story, with their names.
pub(super) fn draw_drains(scene: &mut Scene, view: &View, model: &Model, story: &Story) {
    for drain in model.drains.values() {
        let Some(first) = drain.legs.first() else {
            continue;
        };
        let here = model
            .house
            .story_at(first.start.z)
            .is_some_and(|there| there.name == story.name);
        if !here {
            continue;
        }
        let ends = drain.legs.iter().map(|leg| view.at(leg.end));
        let way: Vec<_> = std::iter::once(view.at(first.start)).chain(ends).collect();
        if let Some(last) = way.last() {
            scene.circle(*last, 2.5, Pen::MEDIUM, Fill::White);
            scene.leader(
                *last,
                say("plan.drain").with("name", Text::tag(&drain.name)),
            );
        }
        scene.path(way, Pen::broken(1.6, Dash::DashDot));
    }
}
