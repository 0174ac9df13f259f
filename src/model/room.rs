//! Rooms: their solids, their loads, and the outlets in them.

use crate::language::Entry;
use crate::quantity::trade_length;
use crate::source::{Finding, Span, Spanned};

use super::builder::Builder;
use super::mistakes::ROOM_CLASH;
use super::outlet::{Outlet, outlet};
use super::place::{Extent, Point};
use super::story::story_of;

/// A room.
#[derive(Clone, Debug)]
pub struct Room {
    /// Its name.
    pub name: String,
    /// Its story.
    pub story: Spanned<String>,
    /// Its solid.
    pub extent: Option<Extent>,
    /// Sensible cooling load, Btu/h.
    pub sensible: Option<Spanned<f64>>,
    /// Latent cooling load, Btu/h.
    pub latent: Option<Spanned<f64>>,
    /// Heat loss, Btu/h.
    pub heating: Option<Spanned<f64>>,
    /// What it is for.
    pub purpose: Option<String>,
    /// The room whose air keeps it.
    pub served_by: Option<Spanned<String>>,
    /// Whether it is neither heated nor cooled.
    pub unconditioned: bool,
    /// Its outlets.
    pub outlets: Vec<Outlet>,
    /// Its head.
    pub span: Span,
    /// Its whole block.
    pub whole: Span,
    /// Whether part of its block was misread: what it lacks may be there.
    pub flawed: bool,
}

pub(super) fn room(builder: &mut Builder<'_>, entry: &Entry) {
    let Some(name) = entry.text("name").known() else {
        return;
    };
    if !builder.enter("room", &name) {
        return;
    }
    let story = story_of(builder, entry, "story");
    let Some(story_name) = entry.text("story").known() else {
        return;
    };
    let corner = entry
        .child("corner")
        .and_then(|c| builder.lengths(c, ["x", "y"]));
    let size = entry
        .child("size")
        .and_then(|c| builder.sizes(c, ["x", "y"]));
    let own = entry
        .child("ceiling")
        .and_then(|c| builder.size(c, "height"));
    let extent = match (&story, corner, size) {
        (Some(story), Some([x, y]), Some([wide, deep])) => {
            let low = Point::new(x.value, y.value, story.floor);
            let tall = own.map_or(story.ceiling, |own| own.value);
            Some(Extent::between(
                low,
                Point::new(low.x + wide.value, low.y + deep.value, low.z + tall),
            ))
        }
        _ => None,
    };
    let cooling = entry.child("cooling");
    let mut room = Room {
        name: name.value.clone(),
        story: story_name,
        extent,
        sensible: cooling.and_then(|c| builder.real(c, "sensible")),
        latent: cooling.and_then(|c| builder.real(c, "latent")),
        heating: entry.child("heating").and_then(|c| builder.real(c, "load")),
        purpose: entry
            .child("use")
            .and_then(|c| c.text("use").known())
            .map(|word| word.value),
        served_by: entry.child("served").and_then(|c| c.text("room").known()),
        unconditioned: entry.child("unconditioned").is_some(),
        outlets: Vec::new(),
        span: entry.span,
        whole: entry.whole,
        flawed: entry.flawed || entry.body_flawed || extent.is_none(),
    };
    if let Some(extent) = room.extent {
        clash(builder, &room, extent);
    }
    for child in entry.children("outlet") {
        match outlet(builder, child, &room, extent) {
            Some(outlet) => room.outlets.push(outlet),
            None => room.flawed = true,
        }
    }
    builder.model.house.rooms.insert(name.value, room);
}

fn clash(builder: &mut Builder<'_>, room: &Room, extent: Extent) {
    let other = builder.model.house.rooms.values().find_map(|other| {
        let shared = other.extent?.overlap(&extent)?;
        (other.story.value == room.story.value).then(|| (other.name.clone(), other.span, shared))
    });
    let Some((name, span, shared)) = other else {
        return;
    };
    let (wide, deep, _) = shared.size();
    builder.report(
        Finding::new(
            &ROOM_CLASH,
            room.span,
            format!(
                "room `{}` stands {} by {} deep in room `{name}`",
                room.name,
                trade_length(wide),
                trade_length(deep)
            ),
            "correct the corner or the size of one of them",
        )
        .label(span, "the other room"),
    );
}

/// Rooms name the rooms that serve them; those may be written later.
pub(super) fn settle(builder: &mut Builder<'_>) {
    let named: Vec<Spanned<String>> = builder
        .model
        .house
        .rooms
        .values()
        .filter_map(|room| room.served_by.clone())
        .collect();
    for name in &named {
        builder.expect(&["room"], name);
    }
}
