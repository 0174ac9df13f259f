//! What the suction asks of a trap, and the traps as drawn.
//!
//! Heights of water stand for the suction inch for inch: condensate is a thousandth lighter than the
//! conventional inch of water, less than a tape reads.

use crate::figures::{Figure, FigureValue, Ledger};
use crate::model::Drain;
use crate::physics::trap_water::TrapWater;
use crate::quantity::{Dimension, Length};
use crate::source::Spanned;

/// What practice adds to the suction for the drop of a trap (common practice).
pub const PRACTICE_MARGIN: Length = Length::INCH;

/// Drop of a trap under pressure (common practice).
const DROP_UNDER_PRESSURE: Length = Length::sixteenths(8);

const LEVEL_BALANCE: &str = "level balance of a trap with two legs of one bore";
const SWING: &str = "swing of a column of water in a U without friction";

/// What the figures of the `n`-th trap of a drain carry at their end: nothing for the first, `-2` for the second.
pub fn suffix(n: usize) -> String {
    if n == 0 {
        String::new()
    } else {
        format!("-{}", n + 1)
    }
}

/// Enters what the suction asks of a trap on this drain, each trap's drop, seal and distance, and its levels.
pub(super) fn enter(drain: &Drain, ledger: &mut Ledger) {
    if drain.pan.is_none() {
        needs(drain, ledger);
    }
    for (n, (trap, drop, seal)) in drain.traps().enumerate() {
        let id = |what: &str| format!("drain.{}.{what}{}", drain.name, suffix(n));
        ledger.enter(
            Figure::length(id("trap-drop"), drop.value)
                .formula("height of the pan's outlet above the trap's weir, as given")
                .place(drop.span, "drop"),
        );
        ledger.enter(
            Figure::length(id("trap-seal"), seal.value)
                .formula("depth of the dip below the weir, as given")
                .place(seal.span, "seal"),
        );
        ledger.enter(
            Figure::length(id("trap-distance"), trap.station)
                .formula("length of the legs from the unit's port to the trap")
                .place(trap.span, "trap"),
        );
        if n == 0 && drain.pan.is_none() {
            levels(drain, (drop, seal), ledger);
        }
    }
}

/// Where the water of the first trap stands running and at start-up, and what it has in hand.
fn levels(drain: &Drain, (drop, seal): (Spanned<Length>, Spanned<Length>), ledger: &mut Ledger) {
    let suction = |filter: &str| format!("air-handler.{}.pan-suction{filter}", drain.unit);
    let id = |what: &str| format!("drain.{}.{what}", drain.name);
    for filter in ["@clean", "@dirty"] {
        let Some(column) = ledger.real(&suction(filter)) else {
            continue;
        };
        ledger.enter(
            Figure::length(id(&format!("trap-running{filter}")), Length::nearest(column))
                .formula("height of the water on the pan's side above the weir while the blower runs: the suction as a height of water")
                .source(LEVEL_BALANCE)
                .input(suction(filter)),
        );
    }
    let Some(column) = ledger.real(&suction("")) else {
        return;
    };
    let trap = TrapWater {
        drop: drop.value.to_inches(),
        seal: seal.value.to_inches(),
        lacking: 0.0,
    };
    let mut put = |what: &str, value: f64, words: &str, source| {
        ledger.enter(
            Figure::length(id(what), Length::nearest(value))
                .formula(words)
                .source(source)
                .input(suction(""))
                .input(id("trap-seal"))
                .input(id("trap-drop")),
        );
    };
    put(
        "trap-start-fall",
        (column / 2.0).max(0.0),
        "how far the water on the drain's side falls when the blower starts on a full trap: half the suction",
        LEVEL_BALANCE,
    );
    put(
        "trap-flood-margin",
        trap.drop - column.max(0.0),
        "drop less suction: how far the running water stays below the pan's outlet",
        LEVEL_BALANCE,
    );
    put(
        "trap-may-lack",
        trap.may_lack(column),
        "how far the water may have sunk below the weir before a start loses the seal: seal less half the suction",
        LEVEL_BALANCE,
    );
    put(
        "trap-swing-margin",
        trap.swing_margin(column),
        "seal less the whole suction: what is left if the blower were at full speed at once and nothing braked the water",
        SWING,
    );
    let around = seal.value * 2 + Length::nearest(column.abs());
    ledger.enter(
        Figure::number(
            id("trap-swing-time"),
            TrapWater::swing(around),
            Dimension::Duration,
        )
        .formula("2π√(L/2g), L the water from level to level, twice the seal + the suction: a blower that takes longer to start does not swing it")
        .source(SWING)
        .input(suction(""))
        .input(id("trap-seal")),
    );
}

/// What the suction, or the pressure, asks of a trap.
fn needs(drain: &Drain, ledger: &mut Ledger) {
    let suction_id = format!("air-handler.{}.pan-suction", drain.unit);
    let id = |what: &str| format!("drain.{}.{what}", drain.name);
    let column = match ledger.get(&suction_id).map(|figure| &figure.value) {
        Some(FigureValue::Number(suction, _)) => Ok(Length::nearest(*suction)),
        Some(FigureValue::Unknown(reason)) => Err(reason.clone()),
        _ => Err("the unit is not known".to_owned()),
    };
    let sixteenth = Length::sixteenths(1);
    let mut need = |what: &str, formula: &str, source, of: &dyn Fn(Length) -> Length| {
        let figure = match &column {
            Ok(column) => Figure::length(id(what), of(*column)).source(source),
            Err(reason) => Figure::unknown(id(what), reason.clone()),
        };
        ledger.enter(figure.formula(formula).input(suction_id.clone()));
    };
    need(
        "drop-least",
        "the pan floods unless the drop from its outlet to the trap's weir is more than the suction as a height of water",
        LEVEL_BALANCE,
        &|column| column.max(Length::ZERO),
    );
    need(
        "seal-least",
        "half the suction as a height of water, for at start-up each leg of the trap moves by that much; under pressure the whole of it",
        LEVEL_BALANCE,
        &|column| column.half().max(-column),
    );
    need(
        "drop-practice",
        "suction as a height of water + 1 in, up to the next sixteenth; under pressure 1/2 in",
        "common practice",
        &|column| {
            if column < Length::ZERO {
                DROP_UNDER_PRESSURE
            } else {
                (column + PRACTICE_MARGIN).round_up_to(sixteenth)
            }
        },
    );
    need(
        "seal-practice",
        "half of suction + 1 in, up to the next sixteenth; under pressure pressure + 1 in",
        "common practice",
        &|column| {
            if column < Length::ZERO {
                (PRACTICE_MARGIN - column).round_up_to(sixteenth)
            } else {
                (column + PRACTICE_MARGIN).half().round_up_to(sixteenth)
            }
        },
    );
}
