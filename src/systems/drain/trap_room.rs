//! The height that a trap takes below the pan's outlet, the height there is, and the stand that gives it.

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::model::{Direction, Drain, Model, SolidKind};
use crate::quantity::Length;

/// Enters height needed, height there is and the stand needed for the first trap, where no leg has gone down before it.
pub(super) fn enter(model: &Model, catalog: &Catalog, drain: &Drain, ledger: &mut Ledger) {
    let id = |what: &str| format!("drain.{}.{what}", drain.name);
    let Some((trap, drop, seal)) = drain.traps().next() else {
        return;
    };
    let down = drain
        .legs
        .iter()
        .take(trap.after_legs)
        .any(|leg| leg.direction == Direction::Down);
    let Some(unit) = model.air_handlers.get(&drain.unit).filter(|_| !down) else {
        return;
    };
    let Some(story) = model.house.stories.get(&unit.story) else {
        return;
    };
    let pipe = drain
        .pipe
        .as_ref()
        .and_then(|pipe| catalog.pipes.get(&pipe.value));
    let sizes = pipe.and_then(|pipe| Some((pipe.inside.get()?, pipe.outside.get()?)));
    let formula = "drop + seal + bore + wall of the trap's pipe";
    let Some((inside, outside)) = sizes else {
        ledger.enter(
            Figure::unknown(id("trap-height-needed"), "the pipe's sizes are not known")
                .formula(formula),
        );
        return;
    };
    let needed = drop.value + seal.value + inside + (outside - inside).half();
    let deck = model
        .house
        .solids
        .iter()
        .filter(|solid| solid.kind == SolidKind::Platform && solid.story == unit.story)
        .filter(|solid| {
            let (low, high) = (solid.extent.low, solid.extent.high);
            low.x <= trap.point.x
                && trap.point.x <= high.x
                && low.y <= trap.point.y
                && trap.point.y <= high.y
        })
        .max_by_key(|solid| solid.extent.high.z);
    let floor = deck.map_or(story.floor, |deck| deck.extent.high.z);
    ledger.enter(
        Figure::length(id("trap-height-needed"), needed)
            .formula(formula)
            .input(id("trap-drop"))
            .input(id("trap-seal"))
            .place(pipe.map_or(drain.span, |pipe| pipe.span), "pipe"),
    );
    ledger.enter(
        Figure::length(id("trap-height"), drain.start.z - floor)
            .formula("height of the pan's outlet above the floor or deck under the trap")
            .place(
                deck.map_or(story.span, |deck| deck.span),
                "floor under the trap",
            )
            .place(unit.span, format!("air handler {}", unit.name)),
    );
    let stand = (floor - story.floor) + needed - (drain.start.z - unit.base);
    ledger.enter(
        Figure::length(
            id("stand-needed"),
            stand.max(Length::ZERO).round_up_to(Length::sixteenths(4)),
        )
        .formula("height of the unit's underside above its floor that gives the trap its room, up to the next quarter")
        .input(id("trap-height-needed"))
        .place(unit.span, format!("air handler {}", unit.name)),
    );
}
