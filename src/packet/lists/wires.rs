//! Control wires, from terminal to terminal.

use crate::packet::pages::PageSource;
use crate::packet::set::{List, WIRES};
use crate::packet::text::Text;

/// Every control conductor, in the order written.
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
    list
}
