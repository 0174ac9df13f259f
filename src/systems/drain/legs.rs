//! Length, fall, slope and height of every leg, and the fall of the whole drain.

use crate::figures::{Figure, Ledger};
use crate::model::{Drain, DrainLeg};
use crate::quantity::{Length, Slope, trade_length};

/// Least fall of a level leg, IRC M1411.3: 1/8 in per ft.
pub const LEAST_FALL: Slope = Slope::sixteenths_per_foot(2);
/// Usual fall of a level leg, 1/4 in per ft (common practice).
pub const USUAL_FALL: Slope = Slope::sixteenths_per_foot(4);

fn leg_words(leg: &DrainLeg) -> String {
    format!("{} {}", leg.direction.word(), trade_length(leg.length))
}

fn leg(drain: &Drain, n: usize, leg: &DrainLeg, ledger: &mut Ledger) {
    let id = |what: &str| format!("drain.{}.leg-{}-{what}", drain.name, n + 1);
    let words = leg_words(leg);
    ledger.enter(
        Figure::length(id("length"), leg.length)
            .formula("length along the tape, as given")
            .place(leg.span, words.clone()),
    );
    for (what, point) in [("start", leg.start), ("end", leg.end)] {
        let figure = Figure::length(id(what), point.z)
            .formula("height of the pipe's inside bottom above the lowest floor")
            .place(leg.span, words.clone());
        ledger.enter(figure);
    }
    if !leg.direction.is_level() {
        return;
    }
    let Some(fall) = leg.fall else {
        ledger.enter(
            Figure::unknown(id("fall"), "not stated")
                .formula("height of its start above its end, as given")
                .place(leg.span, words),
        );
        return;
    };
    ledger.enter(
        Figure::length(id("fall"), fall.value)
            .formula("height of its start above its end, as given")
            .place(fall.span, "fall"),
    );
    if let Some(slope) = Slope::of(fall.value, leg.length) {
        ledger.enter(
            Figure::slope(id("slope"), slope)
                .formula("fall over length")
                .input(id("fall"))
                .input(id("length")),
        );
    }
}

/// Enters the figures of every leg and of the whole drain.
pub(super) fn enter(drain: &Drain, ledger: &mut Ledger) {
    for (n, one) in drain.legs.iter().enumerate() {
        leg(drain, n, one, ledger);
    }
    let id = |what: &str| format!("drain.{}.{what}", drain.name);
    let level: Length = drain
        .legs
        .iter()
        .filter(|leg| leg.direction.is_level())
        .map(|leg| leg.length)
        .sum();
    ledger.enter(
        Figure::length(id("length"), drain.legs.iter().map(|leg| leg.length).sum())
            .formula("sum of all legs along the tape")
            .place(drain.span, format!("drain {}", drain.name)),
    );
    ledger.enter(
        Figure::length(id("level-length"), level)
            .formula("sum of the level legs")
            .place(drain.span, format!("drain {}", drain.name)),
    );
    ledger.enter(
        Figure::length(id("fall-available"), drain.start.z - drain.end().z)
            .formula("height of the pan's outlet above the drain's end")
            .place(drain.span, format!("drain {}", drain.name)),
    );
    let drop = drain
        .traps()
        .next()
        .map_or(Length::ZERO, |(_, drop, _)| drop.value);
    let needed = |slope: Slope| (drop + slope.fall_over(level)).round_up_to(Length::sixteenths(1));
    ledger.enter(
        Figure::length(id("fall-needed"), needed(LEAST_FALL))
            .formula("drop of the trap + 1/8 in per ft on every level leg")
            .input(id("level-length"))
            .source("IRC M1411.3"),
    );
    ledger.enter(
        Figure::length(id("fall-usual"), needed(USUAL_FALL))
            .formula("drop of the trap + 1/4 in per ft on every level leg")
            .input(id("level-length"))
            .source("common practice"),
    );
    let flattest = drain
        .legs
        .iter()
        .filter_map(|leg| Slope::of(leg.fall?.value, leg.length))
        .min_by(|a, b| a.partial_cmp(b).unwrap_or(std::cmp::Ordering::Equal));
    if let Some(slope) = flattest {
        ledger.enter(
            Figure::slope(id("slope-least"), slope)
                .formula("the flattest of the level legs whose fall is stated")
                .place(drain.span, format!("drain {}", drain.name)),
        );
    }
}
