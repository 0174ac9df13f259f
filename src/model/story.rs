//! Stories: levels of the house, each with its floor and its ceiling.

use crate::language::Entry;
use crate::quantity::{Length, show_length, trade_length};
use crate::source::{Finding, Relation, Span, Spanned};

use super::builder::Builder;
use super::house::House;
use super::mistakes::STORIES_CLASH;
use super::place::{Extent, Point};

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

/// Whether one story lies over another on plan, by its rooms; one without rooms lies over all.
fn lies_over(house: &House, high: &str, low: &str) -> bool {
    let of = |story: &str| -> Vec<Extent> {
        let rooms = house.rooms.values();
        let own = rooms.filter(|room| room.story.value == story);
        own.filter_map(|room| room.extent).collect()
    };
    let (high, low) = (of(high), of(low));
    let over = |one: &Extent, other: &Extent| {
        let level = |of: &Extent| Extent {
            low: Point::new(of.low.x, of.low.y, Length::ZERO),
            high: Point::new(of.high.x, of.high.y, Length::FOOT),
        };
        level(one).overlap(&level(other)).is_some()
    };
    high.is_empty() || low.is_empty() || high.iter().any(|one| low.iter().any(|two| over(one, two)))
}

/// No story reaches into the one above it. Half stories side by side start within another's lower half.
pub(super) fn settle(builder: &mut Builder<'_>) {
    let mut all: Vec<&Story> = builder.model.house.stories.values().collect();
    all.sort_by_key(|story| story.floor);
    let clashes: Vec<Finding> = all
        .windows(2)
        .filter_map(|two| {
            let [low, high] = two else { return None };
            let top = low.floor + low.ceiling;
            let upper_half = high.floor > low.floor + low.ceiling.half();
            let over = lies_over(&builder.model.house, &high.name, &low.name);
            (upper_half && over && top > high.floor).then(|| {
                let most = high.floor - low.floor;
                Finding::new(
                    &STORIES_CLASH,
                    low.ceiling_span,
                    format!("story `{}` reaches into story `{}`", low.name, high.name),
                    format!(
                        "write a ceiling below `{}`, or correct the floor of `{}`",
                        trade_length(most),
                        high.name
                    ),
                )
                .measured(
                    show_length(low.ceiling),
                    Relation::AtMost,
                    show_length(most),
                )
                .label(high.span, "the story above")
            })
        })
        .collect();
    for finding in clashes {
        builder.report(finding);
    }
}
