//! Supply air, as far as geometry goes: outlets of each room.

use crate::figures::{Figure, Ledger};
use crate::model::Model;

/// Enters the figures of supply air.
pub(super) fn enter(model: &Model, ledger: &mut Ledger) {
    for room in model.house.rooms.values() {
        let mut count = Figure::count(format!("room.{}.outlets", room.name), room.outlets.len())
            .formula("number of supply outlets that stand in the room");
        for outlet in &room.outlets {
            count = count.place(outlet.span, format!("outlet {}", outlet.name));
        }
        if room.outlets.is_empty() {
            count = count.place(room.span, format!("room {}", room.name));
        }
        ledger.enter(count);
    }
}
