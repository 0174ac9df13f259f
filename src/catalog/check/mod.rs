//! What a catalog says against itself: curves, tables, ports, terminals, nameplates, packs.
//!
//! Works on what could be read; a value that is not known stays silent.

mod air;
mod cabinet;
mod curve;
mod plate;
mod stock;
mod whole;

pub(super) use air::{
    BLOWER_WITHOUT_CURVE, DESIGN_OUTSIDE_RANGE, INCOMPLETE_TABLE, SENSIBLE_OVER_TOTAL,
};
pub(super) use cabinet::PORT_OFF_FACE;
pub(super) use curve::{SHORT_CURVE, TURNED_BACK_CURVE};
pub(super) use plate::{
    BREAKER_UNDER_AMPACITY, EMPTY_TERMINAL_FED, SAFETY_WITHOUT_GAP, UNKNOWN_TERMINAL,
};
pub(super) use stock::ZERO_AMOUNT;
pub(super) use whole::{UNKNOWN_STOCK, check};
