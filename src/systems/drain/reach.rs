//! Vents and cleanouts: how high they end, and the length behind the trap.

use crate::figures::{Figure, Ledger};
use crate::model::{Drain, Happening, Mark, Model, SolidKind};
use crate::quantity::Length;
use crate::source::Span;

/// How far above the pan's outlet a switch trips where the unit has no secondary port (common practice).
const TRIPS: Length = Length::INCH;

/// How far an arm reaches over what nobody can stand on (common practice).
pub const ARM: Length = Length::inches(24);

/// Enters the length behind the trap, the least height of a vent and where its cleanout stands.
pub(super) fn enter(model: &Model, drain: &Drain, ledger: &mut Ledger) {
    let id = |what: &str| format!("drain.{}.{what}", drain.name);
    if let Some((trap, ..)) = drain.traps().next() {
        let behind = drain.legs.iter().skip(trap.after_legs);
        ledger.enter(
            Figure::length(id("length-behind-trap"), behind.map(|leg| leg.length).sum())
                .formula("sum of the legs behind the first trap")
                .place(trap.span, "trap"),
        );
    }
    let unit = model.air_handlers.get(&drain.unit);
    if let Some(unit) = unit.filter(|_| !drain.is_second_line()) {
        let figure = match unit.port("secondary-drain") {
            Some(port) => Figure::length(id("vent-needed"), port.point.z)
                .formula("height of the secondary port above the lowest floor: there a stopped drain shows itself")
                .place(port.span, "secondary port"),
            None => Figure::length(id("vent-needed"), drain.start.z + TRIPS)
                .formula("height of the pan's outlet above the lowest floor + 1 in: there a switch trips")
                .source("common practice")
                .place(drain.port.span, drain.port.value.clone()),
        };
        ledger.enter(figure);
    }
    cleanout(model, drain, ledger);
}

/// Enters how high a drain ends over what takes its water: the top of a pump, else the floor of its story.
pub(super) fn end_above(model: &Model, drain: &Drain, ledger: &mut Ledger) {
    let (Some(last), Some(ending)) = (drain.legs.last(), &drain.ending) else {
        return;
    };
    let pumped = model.pumps.contains_key(&ending.to.value);
    let inlet = ledger.length(&format!("pump.{}.inlet", ending.to.value));
    let floor = model.house.story_at(last.end.z).map(|story| story.floor);
    let (Some(under), words) = (if pumped {
        (inlet, "height of the drain's end over the top of its pump")
    } else {
        (
            floor,
            "height of the drain's end over the floor of its story",
        )
    }) else {
        return;
    };
    ledger.enter(
        Figure::length(
            format!("drain.{}.end-above", drain.name),
            last.end.z - under,
        )
        .formula(words)
        .source("geometry")
        .place(last.span, "the last leg"),
    );
}

/// A cleanout as a hand finds it.
struct Reach {
    /// Above the floor of its story.
    height: Length,
    /// Beside the nearest platform of its story, where the unit stands on one.
    sideways: Option<(Length, Span)>,
    span: Span,
}

fn reach(model: &Model, unit: &str, happening: &Happening) -> Option<Reach> {
    let point = happening.point;
    let story = model.house.story_at(point.z)?;
    let platforms = || {
        let solids = model.house.solids.iter();
        solids.filter(|solid| solid.kind == SolidKind::Platform && solid.story == story.name)
    };
    // A unit that stands on none is served from something that the job does not show.
    let stands = model
        .air_handlers
        .get(unit)
        .and_then(|unit| unit.cabinet)
        .is_some_and(|cabinet| {
            platforms().any(|platform| platform.extent.beside(cabinet.center()) == Length::ZERO)
        });
    Some(Reach {
        height: point.z - story.floor,
        sideways: platforms()
            .filter(|_| stands)
            .map(|platform| (platform.extent.beside(point), platform.span))
            .min_by_key(|(beside, _)| *beside),
        span: happening.span,
    })
}

/// Enters where the cleanout stands that a hand reaches best: near a platform first, then low.
fn cleanout(model: &Model, drain: &Drain, ledger: &mut Ledger) {
    let id = |what: &str| format!("drain.{}.{what}", drain.name);
    let best = drain
        .happenings
        .iter()
        .filter(|happening| matches!(happening.mark, Mark::Cleanout { .. }))
        .filter_map(|happening| reach(model, &drain.unit, happening))
        .min_by_key(|found| {
            let beside = found.sideways.map_or(Length::ZERO, |(beside, _)| beside);
            (beside > ARM, found.height)
        });
    let Some(best) = best else { return };
    ledger.enter(
        Figure::length(id("cleanout-height"), best.height)
            .formula("height above the floor of its story of the cleanout that a hand reaches best")
            .place(best.span, "cleanout"),
    );
    if let Some((beside, platform)) = best.sideways {
        ledger.enter(
            Figure::length(id("cleanout-sideways"), beside)
                .formula("the shortest way on plan from that cleanout to the nearest platform of its story; zero above one")
                .source("geometry")
                .place(best.span, "cleanout")
                .place(platform, "platform"),
        );
    }
}
