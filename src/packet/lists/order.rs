//! `order.csv`: what to buy, by the unit it is sold in.

use crate::packet::pages::PageSource;
use crate::packet::set::{List, ORDER};
use crate::packet::text::{Text, say};

/// Everything that has to be bought.
pub(super) fn rows(source: &PageSource<'_>) -> List {
    let mut list = List::new(&ORDER);
    let needs = source.material.needs.iter();
    for need in needs.filter(|need| need.quantity() != Some(0)) {
        let quantity = source.figure(&need.quantity_figure());
        list.row([
            Text::item(source.files, need),
            Text::pack(source.files, need),
            quantity.map_or_else(|| say("pull.as-needed").into(), Text::figure),
            Text::need_unit(source.files, need),
            Text::price(source.files, need),
            Text::uses(source.files, need),
        ]);
    }
    list
}
