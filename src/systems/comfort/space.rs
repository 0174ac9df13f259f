//! The temperature of the space that a duct or tube passes through.

use crate::model::{House, Model, Story};
use crate::quantity::Length;
use crate::source::Span;

use super::design::{Design, Season};
use super::gap::Gap;

/// A space as a duct feels it.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::systems) struct Space {
    /// Its story.
    pub(in crate::systems) story: String,
    /// Its temperature, °F.
    pub(in crate::systems) temperature: f64,
    /// Whether it is neither heated nor cooled.
    pub(in crate::systems) unconditioned: bool,
    /// The words that say so.
    pub(in crate::systems) span: Span,
    /// What they say.
    pub(in crate::systems) words: String,
}

/// Whether a story holds a room that is kept comfortable.
pub(in crate::systems) fn lived_in(house: &House, story: &str) -> bool {
    house
        .rooms
        .values()
        .any(|room| room.story.value == story && !room.unconditioned)
}

/// The story whose floor lies next below a height.
pub(in crate::systems) fn story_below(house: &House, z: Length) -> Option<&Story> {
    house
        .stories
        .values()
        .filter(|story| story.floor <= z)
        .max_by_key(|story| story.floor)
}

/// Whether a duct in a space of that name, a story or a room, lies outside what is heated and cooled.
pub(in crate::systems) fn outside<'m>(model: &'m Model, name: &str) -> Option<&'m Story> {
    let house = &model.house;
    if let Some(story) = house.stories.get(name) {
        let stated = story.summer.is_some() || story.winter.is_some();
        return (stated || !lived_in(house, name)).then_some(story);
    }
    let room = house.rooms.get(name).filter(|room| room.unconditioned)?;
    house.stories.get(&room.story.value)
}

/// Whether no story stands above, and nobody lives in it.
pub(in crate::systems) fn is_attic(house: &House, story: &Story) -> bool {
    !lived_in(house, &story.name)
        && house
            .stories
            .values()
            .all(|other| other.name == story.name || other.floor < story.floor)
        && house.stories.len() > 1
}

/// How far up a story reaches: to the floor above, the uppermost without end.
pub(in crate::systems) fn reaches(house: &House, story: &Story) -> (Length, Option<Length>) {
    let above = house
        .stories
        .values()
        .map(|other| other.floor)
        .filter(|floor| *floor > story.floor)
        .min();
    (story.floor, above)
}

fn of_story(model: &Model, story: &Story, design: &Design) -> Result<Space, Gap> {
    let stated = match design.season {
        Season::Summer => story.summer,
        Season::Winter => story.winter,
    };
    let season = design.season.word();
    if let Some(stated) = stated {
        return Ok(Space {
            story: story.name.clone(),
            temperature: stated.value,
            unconditioned: true,
            span: stated.span,
            words: format!("{season} temperature of {}", story.name),
        });
    }
    if lived_in(&model.house, &story.name) {
        return Ok(Space {
            story: story.name.clone(),
            temperature: design.indoor.value,
            unconditioned: false,
            span: design.indoor.span,
            words: format!("{} is kept at the {season} indoor temperature", story.name),
        });
    }
    Err(Gap::because(format!(
        "no {season} temperature is given for story `{}`",
        story.name
    )))
}

/// The space of that name: a story or a room.
pub(in crate::systems) fn named(model: &Model, name: &str, design: &Design) -> Result<Space, Gap> {
    if let Some(story) = model.house.stories.get(name) {
        return of_story(model, story, design);
    }
    let Some(room) = model.house.rooms.get(name) else {
        return Err(Gap::Silent);
    };
    let Some(story) = model.house.stories.get(&room.story.value) else {
        return Err(Gap::Silent);
    };
    if !room.unconditioned {
        return Ok(Space {
            story: story.name.clone(),
            temperature: design.indoor.value,
            unconditioned: false,
            span: design.indoor.span,
            words: format!(
                "{name} is kept at the {} indoor temperature",
                design.season.word()
            ),
        });
    }
    let stated = match design.season {
        Season::Summer => story.summer,
        Season::Winter => story.winter,
    };
    stated.map_or_else(
        || {
            Err(Gap::because(format!(
                "no {} temperature is given for the story of room `{name}`, which is unconditioned",
                design.season.word()
            )))
        },
        |stated| {
            Ok(Space {
                story: story.name.clone(),
                temperature: stated.value,
                unconditioned: true,
                span: stated.span,
                words: format!("{} temperature of {}", design.season.word(), story.name),
            })
        },
    )
}

/// The space at a height of the house.
pub(in crate::systems) fn at(model: &Model, z: Length, design: &Design) -> Result<Space, Gap> {
    let story = story_below(&model.house, z).ok_or(Gap::Silent)?;
    of_story(model, story, design)
}
