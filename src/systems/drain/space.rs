//! The air around a drain: how cold its trap may get, and how much of it runs outside the conditioned rooms.

use crate::figures::{Figure, Ledger};
use crate::model::{Drain, House, Model, Point, Story};
use crate::quantity::{Dimension, Length};

use super::trap::suffix;

/// Coldest air in which standing water is safe, °F: a degree over freezing (common practice).
pub const KEEPS_WATER: f64 = 33.0;

/// Whether a point lies outside the conditioned rooms, as far as the job says: in an unconditioned room, or on a
/// story whose own temperatures are given and in none of its rooms.
pub(super) fn unconditioned(house: &House, point: Point) -> bool {
    let room = house
        .rooms
        .values()
        .find(|room| room.extent.is_some_and(|extent| extent.holds(point)));
    match room {
        Some(room) => room.unconditioned,
        None => house
            .story_at(point.z)
            .is_some_and(|story| story.summer.is_some() || story.winter.is_some()),
    }
}

/// Whether somebody lives where a point lies: in a conditioned room.
pub fn lived_in(model: &Model, point: Point) -> bool {
    let house = &model.house;
    house
        .rooms
        .values()
        .any(|room| !room.unconditioned && room.extent.is_some_and(|extent| extent.holds(point)))
}

/// The story around a point that lies outside the conditioned rooms.
pub(super) fn outside(house: &House, point: Point) -> Option<&Story> {
    house
        .story_at(point.z)
        .filter(|_| unconditioned(house, point))
}

/// The temperature around a point in summer: the story's own, or that of the rooms.
pub(super) fn summer(model: &Model, point: Point) -> Option<f64> {
    let own = outside(&model.house, point).map(|story| story.summer);
    match own {
        Some(Some(temperature)) => Some(temperature.value),
        Some(None) => None,
        None => Some(model.job.condition("summer")?.indoor?.value),
    }
}

/// Enters the air around the traps and the length that runs outside the conditioned rooms.
pub(super) fn enter(model: &Model, drain: &Drain, ledger: &mut Ledger) {
    let id = |what: &str| format!("drain.{}.{what}", drain.name);
    for (n, (trap, ..)) in drain.traps().enumerate() {
        let Some(story) = outside(&model.house, trap.point) else {
            continue;
        };
        let figure = match &story.winter {
            Some(cold) => Figure::number(
                id(&format!("trap-winter{}", suffix(n))),
                cold.value,
                Dimension::Temperature,
            )
            .place(cold.span, format!("winter of {}", story.name)),
            None => Figure::unknown(
                id(&format!("trap-winter{}", suffix(n))),
                format!("the winter temperature of `{}` is not given", story.name),
            )
            .place(story.span, format!("story {}", story.name)),
        };
        ledger.enter(figure.formula("winter temperature of the space that the trap stands in"));
    }
    let mut length = Length::ZERO;
    for leg in &drain.legs {
        let middle = Point::new(
            leg.start.x + (leg.end.x - leg.start.x).half(),
            leg.start.y + (leg.end.y - leg.start.y).half(),
            leg.start.z,
        );
        let said = drain.through.iter().any(|space| {
            let story = model.house.stories.get(&space.value);
            story.is_some_and(|story| {
                story.summer.is_some() && story.floor <= middle.z && {
                    middle.z <= story.floor + story.ceiling
                }
            })
        });
        if leg.direction.is_level() && (said || unconditioned(&model.house, middle)) {
            length += leg.length;
        }
    }
    ledger.enter(
        Figure::length(id("unconditioned-length"), length)
            .formula("level legs outside the conditioned rooms, summed")
            .place(drain.span, format!("drain {}", drain.name)),
    );
}
