//! Control wires, from terminal to terminal, and line voltage over the contacts of relays.

use crate::packet::pages::{PageSource, conductors};
use crate::packet::set::{List, WIRES};
use crate::packet::text::Text;

/// Every control conductor, in the order written, then what passes a contact at line voltage.
pub(super) fn rows(source: &PageSource<'_>) -> List {
    let mut list = List::new(&WIRES);
    for cable in source.model.cables.values() {
        for (n, wire) in cable.wires.iter().enumerate() {
            list.row([
                source.name(cable.span, &cable.name),
                Text::tag(&format!("w{}", n + 1)),
                source.word(&wire.colour),
                source.word(&wire.from),
                source.word(&wire.to),
            ]);
        }
    }
    for (n, [circuit, colour, from, to]) in conductors(source).into_iter().enumerate() {
        // Two conductors a contact: to it, and on from it.
        let number = Text::tag(&format!("w{}", n % 2 + 1));
        list.row([circuit, number, colour, from, to]);
    }
    list
}
