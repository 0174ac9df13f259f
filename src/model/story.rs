//! Stories: levels of the house, each with its floor and its ceiling.

use crate::language::Entry;
use crate::quantity::Length;
use crate::source::{Span, Spanned};

use super::builder::Builder;

/// A level of the house.
#[derive(Clone, Debug)]
pub struct Story {
    /// Its name.
    pub name: String,
    /// Floor above the lowest story's floor.
    pub floor: Length,
    /// Ceiling above this floor.
    pub ceiling: Length,
    /// The words of the ceiling height.
    pub ceiling_span: Span,
    /// Summer temperature where unconditioned, °F.
    pub summer: Option<Spanned<f64>>,
    /// Winter temperature where unconditioned, °F.
    pub winter: Option<Spanned<f64>>,
    /// `crawl-space` or `lay-in-ceiling`, where only openings let somebody in.
    pub limited: Option<Spanned<String>>,
    /// Its head.
    pub span: Span,
}

pub(super) fn story(builder: &mut Builder<'_>, entry: &Entry) {
    let Some(name) = entry.text("name").known() else {
        return;
    };
    if !builder.enter("story", &name) {
        return;
    }
    let floor = entry
        .child("floor")
        .and_then(|child| builder.length(child, "floor"));
    let ceiling = entry
        .child("ceiling")
        .and_then(|child| builder.size(child, "ceiling"));
    let (summer, winter) = (
        entry
            .child("summer")
            .and_then(|child| builder.real(child, "temperature")),
        entry
            .child("winter")
            .and_then(|child| builder.real(child, "temperature")),
    );
    let (Some(floor), Some(ceiling)) = (floor, ceiling) else {
        builder.half_known("story", &name.value);
        return;
    };
    let story = Story {
        name: name.value.clone(),
        floor: floor.value,
        ceiling: ceiling.value,
        ceiling_span: ceiling.span,
        summer,
        winter,
        limited: entry
            .child("limited-access")
            .and_then(|child| child.text("sort").known()),
        span: entry.span,
    };
    builder.model.house.stories.insert(name.value, story);
}

/// The story that a thing says it stands on, if it is known.
pub(super) fn story_of(builder: &mut Builder<'_>, entry: &Entry, slot: &str) -> Option<Story> {
    let name = entry.text(slot).known()?;
    if !builder.expect(&["story"], &name) {
        return None;
    }
    builder.model.house.stories.get(&name.value).cloned()
}
