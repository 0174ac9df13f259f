//! What the suction asks of a trap, and the traps as drawn.
//!
//! Heights of water stand for the suction inch for inch: condensate is a thousandth lighter than the
//! conventional inch of water, less than a tape reads.

use crate::figures::{Figure, FigureValue, Ledger};
use crate::model::Drain;
use crate::quantity::Length;

/// What practice adds to the suction for the drop of a trap (common practice).
pub const PRACTICE_MARGIN: Length = Length::INCH;

const LEVEL_BALANCE: &str = "level balance of a trap with two legs of one bore";

/// What the figures of the `n`-th trap of a drain carry at their end: nothing for the first, `-2` for the second.
pub fn suffix(n: usize) -> String {
    if n == 0 {
        String::new()
    } else {
        format!("-{}", n + 1)
    }
}

/// Enters what the suction asks of a trap on this drain, and each trap's drop, seal and distance.
pub(super) fn enter(drain: &Drain, ledger: &mut Ledger) {
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
        &|column| column,
    );
    need(
        "seal-least",
        "half the suction as a height of water: at start-up each leg of the trap moves by that much",
        LEVEL_BALANCE,
        &Length::half,
    );
    need(
        "drop-practice",
        "suction as a height of water + 1 in, up to the next sixteenth",
        "common practice",
        &|column| (column + PRACTICE_MARGIN).round_up_to(sixteenth),
    );
    need(
        "seal-practice",
        "half of suction + 1 in, up to the next sixteenth",
        "common practice",
        &|column| (column + PRACTICE_MARGIN).half().round_up_to(sixteenth),
    );
    for (n, (trap, drop, seal)) in drain.traps().enumerate() {
        let end = suffix(n);
        ledger.enter(
            Figure::length(id(&format!("trap-drop{end}")), drop.value)
                .formula("height of the pan's outlet above the trap's weir, as given")
                .place(drop.span, "drop"),
        );
        ledger.enter(
            Figure::length(id(&format!("trap-seal{end}")), seal.value)
                .formula("depth of the dip below the weir, as given")
                .place(seal.span, "seal"),
        );
        ledger.enter(
            Figure::length(id(&format!("trap-distance{end}")), trap.station)
                .formula("length of the legs from the unit's port to the trap")
                .place(trap.span, "trap"),
        );
    }
}
