//! Heights of a drain as the crew measures them: below the pan's outlet, at each end of a leg and at each support.

use crate::catalog::Catalog;
use crate::figures::{Figure, Ledger};
use crate::model::{Drain, DrainLeg, Model};
use crate::quantity::{Length, Slope};
use crate::source::{Span, Spanned};
use crate::systems::drain::{most_spacing, upright_spacing};

/// Support of level plastic pipe where neither job nor catalog says (IRC Table P2605.1).
const USUAL_SPACING: Length = Length::feet(4);

/// Beyond this many the spacing is a mistake, and the list helps nobody.
const MOST_SUPPORTS: usize = 200;

/// The spacing of level supports, where it is said, and whose it is.
pub(super) fn spacing(drain: &Drain, catalog: &Catalog) -> (Length, Option<Span>, &'static str) {
    if let Some(hangers) = drain.hangers {
        return (hangers.value, Some(hangers.span), "geometry");
    }
    let pipe = drain
        .pipe
        .as_ref()
        .and_then(|pipe| catalog.pipes.get(&pipe.value));
    match pipe.and_then(|pipe| Some((pipe.support.get()?, pipe.support.span))) {
        Some((spacing, span)) => {
            // The catalog may ask for less than the code allows, never more.
            let table = pipe.and_then(|pipe| most_spacing(pipe.material.get()?));
            match table.filter(|(level, _)| *level < spacing) {
                Some((level, _)) => (level, Some(span), "IRC Table P2605.1"),
                None => (spacing, Some(span), "the stock's catalog"),
            }
        }
        None => (USUAL_SPACING, None, "IRC Table P2605.1"),
    }
}

/// How far a level leg has fallen `along` its length.
fn fallen(leg: &DrainLeg, along: Length) -> Length {
    let fall = leg
        .fall
        .map_or(Length::ZERO, |fall: Spanned<Length>| fall.value);
    Slope::of(fall, leg.length).map_or(Length::ZERO, |slope| slope.fall_over(along))
}

fn enter_support(
    drain: &Drain,
    (n, leg): (usize, &DrainLeg),
    k: usize,
    along: Length,
    ledger: &mut Ledger,
) {
    let id = |what: &str| format!("drain.{}.support-{k}-{what}", drain.name);
    let level = leg.direction.is_level();
    let upright = if level { "" } else { "-upright" };
    let id_of_spacing = format!("drain.{}.support-spacing{upright}", drain.name);
    let height = if level {
        leg.start.z - fallen(leg, along)
    } else if leg.end.z < leg.start.z {
        leg.start.z - along
    } else {
        leg.start.z + along
    };
    let step = Length::sixteenths(1);
    let rounded = |length: Length| (length + Length::from_nm(step.nm() / 2)).round_down_to(step);
    ledger.enter(
        Figure::text(id("leg"), format!("leg-{}", n + 1))
            .formula("the leg that the support holds")
            .place(leg.span, "leg"),
    );
    ledger.enter(
        Figure::length(id("along"), along)
            .formula("distance from the start of its leg: at the spacing of supports, and at the leg's end")
            .input(id_of_spacing)
            .place(leg.span, "leg"),
    );
    ledger.enter(
        Figure::length(id("height"), rounded(height))
            .formula("height of the pipe's inside bottom above the lowest floor, to the nearest sixteenth")
            .input(id("along"))
            .place(leg.span, "leg"),
    );
    ledger.enter(
        Figure::length(id("below"), rounded(drain.start.z - height))
            .formula("height of the pan's outlet above the pipe's inside bottom, to the nearest sixteenth")
            .input(id("height"))
            .place(drain.port.span, drain.port.value.clone()),
    );
}

fn enter_drain(drain: &Drain, catalog: &Catalog, ledger: &mut Ledger) {
    let id = |what: &str| format!("drain.{}.{what}", drain.name);
    ledger.enter(
        Figure::length(id("outlet-height"), drain.start.z)
            .formula("height of the pan's outlet above the lowest floor")
            .place(drain.port.span, drain.port.value.clone()),
    );
    for (n, leg) in drain.legs.iter().enumerate() {
        for (what, point) in [("start-below", leg.start), ("end-below", leg.end)] {
            ledger.enter(
                Figure::length(
                    id(&format!("leg-{}-{what}", n + 1)),
                    drain.start.z - point.z,
                )
                .formula("height of the pan's outlet above the pipe's inside bottom")
                .input(id("outlet-height"))
                .place(leg.span, "leg"),
            );
        }
    }
    let (level, span, source) = spacing(drain, catalog);
    let mut figure = Figure::length(id("support-spacing"), level)
        .formula("greatest distance between supports of level pipe")
        .source(source);
    if let Some(span) = span {
        figure = figure.place(span, "supports");
    }
    ledger.enter(figure);
    let pipe = drain.pipe.as_ref();
    let (upright, span, source) =
        upright_spacing(pipe.and_then(|pipe| catalog.pipes.get(&pipe.value)));
    let mut figure = Figure::length(id("support-spacing-upright"), upright)
        .formula("greatest distance between supports of upright pipe")
        .source(source);
    if let Some(span) = span {
        figure = figure.place(span, "support-upright");
    }
    ledger.enter(figure);
    let mut k = 0;
    for (n, leg) in drain.legs.iter().enumerate() {
        let step = if leg.direction.is_level() {
            level
        } else {
            upright
        };
        // One where the drain begins, then one every spacing and one at the end of each leg.
        let mut along = if n == 0 {
            Length::ZERO
        } else {
            step.max(Length::INCH).min(leg.length)
        };
        while k < MOST_SUPPORTS {
            k += 1;
            enter_support(drain, (n, leg), k, along, ledger);
            if along >= leg.length {
                break;
            }
            along = (along + step.max(Length::INCH)).min(leg.length);
        }
    }
    ledger.enter(
        Figure::count(id("supports"), k)
            .formula("number of supports at their spacing")
            .input(id("support-spacing"))
            .input(id("support-spacing-upright")),
    );
}

/// Enters the heights of every drain.
pub(super) fn enter(model: &Model, catalog: &Catalog, ledger: &mut Ledger) {
    for drain in model.drains.values() {
        enter_drain(drain, catalog, ledger);
    }
}
